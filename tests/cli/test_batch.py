"""``tiles batch``: the buckets of a glaze added, listed, changed and renamed."""

import json

from tests.cli.records import all_rows, assert_one_line_error, shown


def test_a_batch_is_added_listed_and_warned_of_when_from_part_of_a_bag(sample, tiles):
    given = ("--mixed-on", "2026-06-01", "--specific-gravity", "1.45", "--sieve-mesh", "80",
             "--dry-portion", "part-of-bag", "--not-revived", "--note", "thinner")  # fmt: skip
    ran = tiles("batch", "add", "school white", "June", *given)
    assert (ran.code, ran.out) == (0, "Batch June of school white is on record.\n")
    assert "Mix the whole bag" in ran.err
    rows = json.loads(tiles("batch", "list", "school white", "--json").out)
    assert rows[-1] == {
        "glaze": "school white",
        "name": "June",
        "mixed_on": "2026-06-01",
        "specific_gravity": 1.45,
        "sieve_mesh": 80,
        "dry_portion": "part of bag",
        "is_revived": False,
        "note": "thinner",
        "is_retired": False,
    }
    assert_one_line_error(tiles("batch", "add", "school white", "june"), "'june'", "already")
    assert_one_line_error(tiles("batch", "add", "no such", "june"), "'no such'")
    heavy = ("--specific-gravity", "145")
    assert_one_line_error(tiles("batch", "add", "school white", "x", *heavy), "145")


def test_a_batch_is_corrected_and_renamed_and_its_tiles_follow(sample, tiles):
    thin = ("--specific-gravity", "1.22", "--sieve-mesh", "80", "--note", "a pupil's", "--revived")
    assert tiles("batch", "add", "school white", "June", *thin).code == 0
    assert tiles("batch", "add", "school white", "July").code == 0
    log = ("log", "--mark", "N-1", "--body", "red earthenware", "--glaze", "school white")
    assert tiles(*log, "--batch", "June").code == 0
    right = ("--specific-gravity", "1,45", "--note", "", "--dry-portion", "part of bag")
    ran = tiles("batch", "change", "School White", "june", *right, "--not-revived", "--yes")
    changed = "specific_gravity, dry_portion, is_revived, note"
    assert (ran.code, ran.out) == (0, f"Batch June of school white: changed {changed}.\n")
    assert "Mix the whole bag" in ran.err
    assert tiles("batch", "rename", "school white", "june", "1 June").code == 0
    batch = shown(tiles, "N-1")["areas"][0]["layers"][0]["batch"]
    assert batch == {
        "name": "1 June", "mixed_on": None, "specific_gravity": 1.45, "sieve_mesh": 80,
        "dry_portion": "part of bag", "is_revived": False, "note": None,
        "is_retired": False,
    }  # fmt: skip
    before = all_rows(sample)
    bad = (
        (("rename", "school white", "1 June", "july"), "already has a batch called 'july'"),
        (("rename", "school white", "1 June", " "), "name"),
        (("change", "school white", "1 June"), "nothing to change"),
        (("change", "school white", "1 Jun", "--note", "x"), "'1 June'"),
        (("change", "school white", "1 June", "--specific-gravity", "145"), "145"),
        (("change", "school white", "1 June", "--sieve-mesh", "80.5"), "80.5"),
    )
    for command, told in bad:
        assert_one_line_error(tiles("batch", *command), told)
    assert all_rows(sample) == before


def test_what_is_said_of_a_batch_by_a_slip_can_be_taken_back_and_no_day_is_to_come(sample, tiles):
    named = ("studio clear", "jar 2")
    assert tiles("batch", "add", *named, "--not-revived").code == 0
    assert tiles("batch", "change", *named, "--revived-unknown").code == 0
    (kept,) = json.loads(tiles("batch", "list", "studio clear", "--json").out)
    assert kept["is_revived"] is None
    both = ("--revived", "--revived-unknown")
    assert_one_line_error(tiles("batch", "change", *named, *both), "contradicts itself")
    for command in (("change", *named), ("add", "studio clear", "jar 3")):
        ran = tiles("batch", *command, "--mixed-on", "2099-01-01")
        assert_one_line_error(ran, "would be mixed on 2099-01-01, a day to come")


def test_a_revived_and_a_thin_batch_are_told_what_is_common_practice(sample, tiles):
    thin = ("--revived", "--specific-gravity", "1.22")
    ran = tiles("batch", "add", "school white", "old", *thin)
    gum, watery = ran.err.splitlines()
    assert gum.startswith("Note (common practice): ") and "gum" in gum and "test tile" in gum
    assert "SG 1.22 is thin" in watery
    command = watery.partition("tiles ")[2].replace("LITRES", "0.5").split()
    assert "of clear water; common practice: some of its gum" in tiles(*command).err
    assert tiles("batch", "change", "school white", "old", "--note", "stirred").err == ""
    assert tiles("batch", "change", "school white", "old", "--specific-gravity", "1.45").err == ""
    again = tiles("batch", "change", "school white", "old", "--specific-gravity", "1.3").err
    assert "SG 1.3 is thin" in again and "gum" not in again
    tiles("glaze", "add", "iron wash", "--role", "wash")
    assert tiles("batch", "add", "iron wash", "thin", "--specific-gravity", "1.1").err == ""


def test_the_batches_of_all_glazes_are_listed_with_their_glaze(sample, tiles):
    assert tiles("batch", "add", "pond green", "BB2").code == 0
    rows = json.loads(tiles("batch", "list", "--json").out)
    named = {(row["glaze"], row["name"]) for row in rows}
    assert {("pond green", "BB2"), ("house clear", "HC Nov 2025")} <= named
    alone = json.loads(tiles("batch", "list", "pond green", "--json").out)
    assert {row["glaze"] for row in alone} == {"pond green"}
    assert "pond green" in tiles("batch", "list").out


def test_a_tile_can_name_its_batch(sample, tiles):
    tiles("batch", "add", "school white", "June", "--specific-gravity", "1.45")
    log = ("log", "--mark", "N-1", "--body", "red earthenware", "--glaze", "school white")
    assert tiles(*log, "--batch", "june").code == 0
    layer = shown(tiles, "N-1")["areas"][0]["layers"][0]
    assert (layer["batch"]["name"], layer["batch"]["specific_gravity"]) == ("June", 1.45)


def test_a_figure_that_tiles_were_dipped_at_is_changed_only_after_a_question(sample, tiles):
    batch = ("school white", "Oct")
    assert tiles("batch", "add", *batch, "--specific-gravity", "1.47").code == 0
    change = ("batch", "change", *batch, "--specific-gravity")
    assert tiles(*change, "1.46").err == "", "no tile is from it yet"
    log = ("log", "--body", "red earthenware", "--glaze", "school white", "--batch", "Oct")
    for mark in ("N-1", "N-2"):
        assert tiles(*log, "--mark", mark).code == 0
    before = all_rows(sample)
    ran = tiles(*change, "1.31")
    assert_one_line_error(
        ran, "N-1, N-2 (2 tiles) were coated from batch 'Oct' of school white",
        "SG 1.31 in place of 1.46", "'tiles batch add \"school white\" \"Oct b\"'", "--yes",
    )  # fmt: skip
    assert all_rows(sample) == before
    assert_one_line_error(tiles(*change, ""), "SG not recorded in place of 1.46")
    # What was blank takes nothing away; what is no figure of the coat neither.
    filled = tiles("batch", "change", *batch, "--sieve-mesh", "80", "--note", "top up")
    assert (filled.code, filled.err) == (0, "That holds for 2 tiles coated from it.\n")
    assert tiles(*change, "1.31", "--yes").code == 0


def test_a_bucket_that_is_used_up_is_retired_and_taken_for_no_further_tile(sample, tiles):
    from tiles.cli.next_stock import owned

    for name in ("June", "July"):
        assert tiles("batch", "add", "school white", name).code == 0
    before = [each.name for each in owned(None).batches["school white"]]
    ran = tiles("batch", "retire", "school white", "june")
    told = "Batch June of school white is retired; its tiles stay on record.\n"
    assert (ran.code, ran.out) == (0, told)
    kept = [each.name for each in owned(None).batches["school white"]]
    assert kept == [each for each in before if each != "June"]
    rows = {each["name"]: each["is_retired"] for each in
            json.loads(tiles("batch", "list", "school white", "--json").out)}  # fmt: skip
    assert (rows["June"], rows["July"]) == (True, False)
    assert tiles("batch", "restore", "school white", "June").out.endswith("is in use.\n")
    assert [each.name for each in owned(None).batches["school white"]] == before


def test_a_retired_batch_that_is_used_is_told_of(sample, tiles):
    assert tiles("batch", "add", "school white", "June").code == 0
    of_it = ("--body", "red earthenware", "--glaze", "school white", "--batch", "June")
    assert "retired" not in tiles("forecast", *of_it, "--cone", "05").err
    assert tiles("batch", "retire", "school white", "June").code == 0
    told = "Note: batch 'June' of 'school white' is retired.\n"
    assert told in tiles("log", "--mark", "N-1", *of_it, "--firing", "F12").err
    assert told in tiles("forecast", *of_it, "--cone", "05").err
