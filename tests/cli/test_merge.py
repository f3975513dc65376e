"""Two names of one body, glaze, kiln or firing made one, and parted again."""

import json
import re
import shlex
from operator import itemgetter

import pytest

from tests.cli.records import assert_one_line_error, row, shown


def test_a_name_that_becomes_part_of_a_retired_one_is_told_so(fresh, tiles):
    for name in ("dusk", "old dusk", "older dusk"):
        assert tiles("glaze", "add", name).code == 0
    tiles("glaze", "retire", "old dusk")
    ran = tiles("glaze", "merge", "dusk", "old dusk", "--yes")
    assert ran.out == "dusk is now part of old dusk, which is retired.\n"
    ran = tiles("glaze", "merge", "old dusk", "older dusk", "--yes")
    assert ran.out == "old dusk is now part of older dusk.\n"


@pytest.mark.parametrize("kind", ["body", "glaze", "firing"])
def test_a_merge_names_its_tiles_and_a_file_parts_the_two_again(fresh, tiles, kind):
    for mark, number in (("A-1", 1), ("A-2", 1), ("B-1", 2)):
        made = [f"--{each}={each} {number}" for each in ("body", "glaze", "firing")]
        assert tiles("log", "--mark", mark, *made, "--coats", "2", "--add-missing").code == 0
    before = {mark: shown(tiles, mark) for mark in ("A-1", "A-2", "B-1")}
    asked = tiles(kind, "merge", f"{kind} 1", f"{kind} 2")
    assert_one_line_error(asked, f"will be of '{kind} 2' (A-1, A-2)")
    ran = tiles(kind, "merge", f"{kind} 1", f"{kind} 2", "--yes")
    assert (ran.code, "That concerns A-1..A-2." in ran.err) == (0, True)
    assert shown(tiles, "A-2") != before["A-2"]
    (again,) = re.findall(r"To part them again: tiles (.+)", " ".join(ran.err.split()))
    assert tiles(*shlex.split(again)).code == 0
    assert {mark: shown(tiles, mark) for mark in before} == before


def test_the_file_of_a_merge_parts_trials_of_a_bucket_too(fresh, tiles):
    made = ("--body", "red", "--coats", "2", "--glaze")
    for glaze in ("honey", "honey 2"):
        assert tiles("glaze", "add", glaze).code == 0
    for batch in ("revived", "new"):
        assert tiles("batch", "add", "honey 2", batch).code == 0
    log = ("log", "--mark", "A-1", *made, "honey 2", "--batch", "revived", "--add-missing")
    assert tiles(*log, "--defect", "crawling").code == 0
    trial = ("--trial-of", "A-1", "--trial-defect", "crawling", "--trial-change")
    of_it = (*made, "honey 2", "--batch", "new", *trial, "batch revived -> new")
    assert tiles("log", "--mark", "A-2", *of_it).code == 0
    before = [shown(tiles, mark) for mark in ("A-1", "A-2")]
    ran = tiles("glaze", "merge", "honey 2", "honey", "--yes")
    (again,) = re.findall(r"To part them again: tiles (.+)", ran.err)
    ran = tiles(*shlex.split(again))
    assert ran.code == 0, ran.err
    assert [shown(tiles, mark) for mark in ("A-1", "A-2")] == before


def test_a_merge_says_before_and_after_which_label_it_takes_over(fresh, tiles):
    label = ("--food-label", "food safe", "--cones", "06-04", "--remark", "row 7")
    assert tiles("glaze", "add", "trq", *label).code == 0
    assert tiles("glaze", "add", "turquoise", "--colour", "blue").code == 0
    takes = "food label 'food safe', remark 'row 7', cones '06 to 04'."
    assert_one_line_error(
        tiles("glaze", "merge", "trq", "turquoise"), f"'turquoise' takes over {takes}"
    )
    ran = tiles("glaze", "merge", "trq", "turquoise", "--yes")
    assert ran.out == "trq is now part of turquoise.\n"
    assert f"Taken over from trq: {takes}\n" in ran.err


def test_what_a_merge_took_over_is_taken_off_with_the_command_told(fresh, tiles):
    label = ("--food-label", "food safe", "--cones", "06-04", "--remark", "row 7")
    assert tiles("glaze", "add", "trq", *label).code == 0
    assert tiles("glaze", "add", "turquoise", "--remark", "row 2").code == 0
    assert (
        tiles("log", "--mark", "A-1", "--body", "red", "--glaze", "trq", "--add-missing").code == 0
    )
    before = row(tiles, "glaze", "turquoise")
    ran = tiles("glaze", "merge", "trq", "turquoise", "--yes")
    commands = re.findall(r": tiles (.+?)(?= Then take|$)", " ".join(ran.err.split()))
    assert [tiles(*shlex.split(each)).code for each in commands] == [0, 0]
    assert row(tiles, "glaze", "turquoise") == before


@pytest.mark.parametrize(("read", "told"), [("05@top", "05 (top)"), ("05", "05")])
def test_a_merge_of_firings_says_which_witness_cones_it_takes_over(fresh, tiles, read, told):
    assert tiles("firing", "add", "F1", "--witness-cone", read).code == 0
    assert tiles("firing", "add", "F2", "--witness-cone", "06@bottom", "--yes").code == 0
    before = row(tiles, "firing", "F2")
    ran = tiles("firing", "merge", "F1", "F2", "--yes")
    assert f"Taken over from F1: witness cones '{told}'.\n" in ran.err
    (off,) = re.findall(r"what was taken over: tiles (.+)$", ran.err, re.MULTILINE)
    assert tiles(*shlex.split(off)).code == 0
    assert row(tiles, "firing", "F2") == before
    assert tiles("firing", "add", "F3").code == 0
    assert "Taken over" not in tiles("firing", "merge", "F3", "F2", "--yes").err


def test_a_merge_tells_marks_in_order_and_of_many_the_first_and_the_file(fresh, tiles):
    for mark in ("A-10", "A-9", *(f"B-{n}" for n in (30, 28, 26, 24, 22, 20, 18, 16, 14, 12))):
        made = ("--body", "red", "--glaze", "dusk")
        assert tiles("log", "--mark", mark, *made, "--add-missing").code == 0
    tiles("body", "add", "red clay")
    ran = tiles("body", "merge", "red", "red clay", "--yes")
    told = " ".join(ran.err.split())
    assert (
        "That concerns A-9..A-10, B-12, B-14, B-16, B-18, B-20, B-22, B-24 and more, 12 tiles in "
        "all, each named in fresh-merged-"
    ) in told


def test_an_undo_that_would_take_a_later_change_back_names_the_split_that_does_not(fresh, tiles):
    made = ("log", "--body", "red", "--add-missing", "--mark")
    assert tiles(*made, "A-1", "--glaze", "pondgreen").code == 0
    assert tiles(*made, "A-2", "--glaze", "pond green").code == 0
    ran = tiles("glaze", "merge", "pondgreen", "pond green", "--yes")
    (undo,) = re.findall(r"To part them again: tiles (.+)", ran.err)
    assert tiles("change", "A-1", "--bisque-cone", "04").code == 0
    refused = tiles(*shlex.split(undo))
    (split,) = re.findall(r"'tiles (glaze split .*?)' to undo a merge", refused.err)
    assert tiles(*shlex.split(split), "--yes").code == 0
    record = json.loads(tiles("show", "A-1", "--json").out)
    assert record["areas"][0]["layers"][0]["glaze"]["name"] == "pondgreen"
    assert record["bisque_cone"] == "04"


@pytest.mark.parametrize("firings", [("F1", "F2"), ()])
def test_the_commands_told_part_two_kilns_again(fresh, tiles, firings):
    assert tiles("kiln", "add", "front", "--remark", "new").code == 0
    assert tiles("kiln", "add", "back", "--remark", "old").code == 0
    for name, kiln in (*((each, "front") for each in firings), ("F3", "back")):
        assert tiles("firing", "add", name, "--kiln", kiln).code == 0

    def on_record():
        lists = (json.loads(tiles(kind, "list", "--json").out) for kind in ("kiln", "firing"))
        return [sorted(each, key=itemgetter("name")) for each in lists]

    before = on_record()
    ran = tiles("kiln", "merge", "front", "back", "--yes")
    assert ran.code == 0
    for each in re.findall(r"^(?:To part|Then)[^:]*: tiles (.+)$", ran.err, re.MULTILINE):
        words = shlex.split(each)
        assert tiles(*words, *["--yes"] * (words[1] == "split")).code == 0
    assert on_record() == before


def test_parting_makes_no_second_tile_of_one_that_got_another_mark(fresh, tiles):
    made = ("--glaze", "pond green", "--add-missing")
    assert tiles("log", "--mark", "A-1", "--body", "red", *made).code == 0
    assert tiles("body", "add", "terra red").code == 0
    ran = tiles("body", "merge", "red", "terra red", "--yes")
    (undo,) = re.findall(r"To part them again: tiles (.+)", ran.err)
    assert tiles("change", "A-1", "--mark", "B-1").code == 0
    refused = tiles(*shlex.split(undo))
    assert (refused.code, refused.err.count("\n")) == (1, 1)
    assert "A-1 was on record when the two were merged" in refused.err
    assert "'tiles change MARK --mark A-1' first" in refused.err
    assert tiles("change", "B-1", "--mark", "A-1").code == 0
    assert tiles(*shlex.split(undo)).code == 0
    assert json.loads(tiles("show", "A-1", "--json").out)["body"]["name"] == "red"


@pytest.mark.parametrize("kind", ["body", "glaze", "firing"])
def test_one_without_a_tile_is_put_on_record_again_with_the_command_told(fresh, tiles, kind):
    remark = ("--remark", "row 7")
    more = {"body": ("--colour", "red", "--cones", "06-04"), "glaze": ("--cones", "06"),
            "firing": ("--witness-cone", "05@top", "--target-cone", "05")}  # fmt: skip
    assert tiles(kind, "add", "trq", *remark, *more[kind]).code == 0
    assert tiles(kind, "add", "turquoise").code == 0
    before = row(tiles, kind, "trq"), row(tiles, kind, "turquoise")
    ran = tiles(kind, "merge", "trq", "turquoise", "--yes")
    for each in re.findall(r"^(?:To part|Then)[^:]*: tiles (.+)$", ran.err, re.MULTILINE):
        assert tiles(*shlex.split(each)).code == 0, each
    assert (row(tiles, kind, "trq"), row(tiles, kind, "turquoise")) == before


@pytest.mark.parametrize("has_tile", [True, False])
def test_a_merge_parted_again_leaves_no_trace_on_a_bucket_of_both_or_in_the_names(
    fresh, tiles, has_tile
):
    """Nor does it advise the same merge once more."""
    for names in (("glaze", "add", "t q"), ("glaze", "rename", "t q", "trqs"),
                  ("glaze", "add", "trq"), ("batch", "add", "trq", "May"),
                  ("glaze", "change", "trqs", "--kind", "recipe")):  # fmt: skip
        assert tiles(*names).code == 0
    known = ("--note", "thin", "--specific-gravity", "1.45", "--revived")
    assert tiles("batch", "add", "trqs", "May", *known).code == 0
    line = ("--line", "frit=60", "--line", "silica=40")
    assert tiles("recipe", "add", "trqs", *line, "--yes").code == 0
    for mark, glaze in (("A-1", "trqs"), ("B-1", "trq"))[not has_tile :]:
        made = ("--body", "red", "--glaze", glaze, "--batch", "May", "--add-missing")
        assert tiles("log", "--mark", mark, *made).code == 0

    def on_record():
        fresh.with_name("all.json").unlink(missing_ok=True)
        assert tiles("export", str(fresh.with_name("all.json"))).code == 0
        found = json.loads(fresh.with_name("all.json").read_text())
        found["studio"]["glazes"].sort(key=lambda each: each["glaze"]["name"])
        return found

    before = on_record()
    ran = tiles("glaze", "merge", "trqs", "trq", "--yes")
    for each in re.findall(r"^(?:To part|Then)[^:]*: tiles (.+)$", ran.err, re.MULTILINE):
        words = shlex.split(each)
        ran = tiles(*words, *["--yes"] * (words[1] == "remove"))
        assert (ran.code, "merge" in ran.err) == (0, False), ran.err
    assert on_record() == before


def test_kilns_parted_again_have_no_former_name(fresh, tiles):
    for name, kiln in (("F1", "front"), ("F2", "back")):
        assert tiles("kiln", "add", kiln).code == 0
        assert tiles("firing", "add", name, "--kiln", kiln).code == 0
    assert tiles("kiln", "merge", "front", "back", "--yes").code == 0
    assert tiles("kiln", "split", "back", "F1", "--to", "front", "--yes").code == 0
    assert tiles("kiln", "rename", "front", "old").code == 0
    told = tiles("kiln", "show", "front").err
    assert "has been called 'old'" in told and "'back'" not in told


@pytest.mark.parametrize(("retired", "stays"), [("trq", "in use"), ("turquoise", "retired")])
def test_a_merge_says_of_which_glaze_a_bucket_that_both_had_was_retired(
    fresh, tiles, retired, stays
):
    for name in ("trq", "turquoise"):
        assert tiles("glaze", "add", name).code == 0
        assert tiles("batch", "add", name, "May").code == 0
    assert tiles("batch", "retire", retired, "May").code == 0
    told = f"Batch 'May' of 'turquoise' stays {stays}, that of 'trq' was "
    assert told in " ".join(tiles("glaze", "merge", "trq", "turquoise").err.split())
    ran = tiles("glaze", "merge", "trq", "turquoise", "--yes")
    (command,) = re.findall(r"if it still is: tiles (.+)", ran.err)
    assert told in ran.err
    assert tiles(*shlex.split(command)).code == 0
    (kept,) = json.loads(tiles("batch", "list", "turquoise", "--json").out)
    assert kept["is_retired"] is (stays == "in use")


def test_a_merge_of_recipes_parted_again_leaves_each_its_versions_and_buckets(fresh, tiles):
    """Also those that no tile has: version 3 would come back as version 1 without them."""
    for name, amounts in (("book clear", (40, 42, 44)), ("clear b", (50, 42))):
        for amount in amounts:
            lines = ("--line", f"soda feldspar={amount}", "--line", f"silica={100 - amount}")
            assert tiles("recipe", "add", name, *lines, "--yes").code == 0
    assert tiles("batch", "add", "book clear", "May").code == 0
    for mark, name in (("A-1", "book clear"), ("A-2", "clear b")):
        made = ("--body", "red", "--glaze", name, "--add-missing")
        assert tiles("log", "--mark", mark, *made).code == 0

    def on_record():
        assert tiles("export", str(fresh.with_name("all.json"))).code == 0
        studio = json.loads(fresh.with_name("all.json").read_text())["studio"]
        return sorted(studio["glazes"], key=lambda each: each["glaze"]["name"])

    before, tile = on_record(), shown(tiles, "A-1")
    ran = tiles("glaze", "merge", "book clear", "clear b", "--yes")
    for each in re.findall(r"^(?:To part|Then)[^:]*: tiles (.+)$", ran.err, re.MULTILINE):
        words = shlex.split(each)
        assert tiles(*words, *["--yes"] * (words[1] == "remove")).code == 0, each
        fresh.with_name("all.json").unlink(missing_ok=True)
    assert (on_record(), shown(tiles, "A-1")) == (before, tile)
