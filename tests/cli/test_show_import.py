"""A record travels: what ``show --json`` prints, ``import`` takes, and shows the same again."""

import json
from datetime import date

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import all_rows, assert_one_line_error, counts, shown

# The documented shape, key by key; the README carries the same as a table, checked there.
SHAPE = {
    "record": "mark made_on glazed_on form stood body bisque_cone bisque_firing firing shelf "
    "cone_reached areas clues inspections photos note "
    "trial_of trial_defect trial_change derived",
    "body": "name kind colour cone_low cone_high absorption_pct shrinkage_pct "
    "expansion_ppm_per_k remark is_retired",
    "firing": "name kind kiln fired_on target_cone rate_c_per_h hold_min atmosphere peak_c "
    "opened_c witness_cones remark",
    "witness cone": "shelf cone",
    "area": "number label surface layers clues",
    "layer": "glaze recipe batch coats thickness_mm fired_thickness_mm method applied_on beneath",
    "glaze": "name kind role finish colour maker cone_low cone_high supplied_as food_label remark "
    "is_retired",
    "recipe": "version lines note",
    "recipe line": "material parts is_addition",
    "batch": "name mixed_on specific_gravity sieve_mesh dry_portion is_revived note",
    "inspection": "inspected_on defects note",
    "defect": "defect severity area place note",
    "photo": "file caption",
    "derived": "stage clean clean_areas cone_reached cone_reached_said_by",
}


def parts_of(record):
    """Every part of a record with the name of its shape."""
    yield "record", record
    yield "body", record["body"]
    yield "derived", record["derived"]
    yield from (("photo", each) for each in record["photos"])
    for firing in filter(None, (record["firing"], record["bisque_firing"])):
        yield "firing", firing
        yield from (("witness cone", each) for each in firing["witness_cones"])
    for area in record["areas"]:
        yield "area", area
        yield from (part for layer in area["layers"] for part in parts_of_layer(layer))
    for look in record["inspections"]:
        yield "inspection", look
        yield from (("defect", each) for each in look["defects"])


def parts_of_layer(layer):
    yield "layer", layer
    yield "glaze", layer["glaze"]
    if layer["batch"]:
        yield "batch", layer["batch"]
    if layer["recipe"]:
        yield "recipe", layer["recipe"]
        yield from (("recipe line", each) for each in layer["recipe"]["lines"])


@pytest.fixture(scope="module")
def every_record(sample_template):
    """All records of the sample, as the program prints them."""
    from sqlalchemy import select

    from tiles import settings
    from tiles.exchange.json_file import to_json
    from tiles.records import models, reading
    from tiles.records.database import open_database

    with open_database(settings.database_url(str(sample_template))).transaction() as session:
        marks = list(session.scalars(select(models.Tile.mark).order_by(models.Tile.tile_id)))
        return {each.mark: to_json(each) for each in reading.find_records(session, marks)}


@pytest.fixture
def write(tmp_path):
    """Write a JSON file to import."""

    def write_file(value, name="record.json"):
        file = tmp_path / name
        file.write_text(json.dumps(value, ensure_ascii=False), encoding="utf-8")
        return file

    return write_file


RECORD = {"mark": "N-1", "body": "red earthenware", "areas": [
    {"number": 1, "layers": [{"glaze": "pond green", "coats": 2}]}]}  # fmt: skip


def test_show_json_has_the_documented_shape(every_record):
    met = set()
    for record in every_record.values():
        for name, part in parts_of(record):
            assert list(part) == SHAPE[name].split(), (record["mark"], name)
            met.add(name)
    assert met == set(SHAPE) - {"photo"}  # the sample is built without its pictures here


def test_show_json_of_a_real_process_is_the_record(sample, tiles_process, every_record):
    ran = tiles_process("show", "m-41", "--json")
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out) == every_record["M-41"]


def test_show_tells_a_person_the_same(sample, tiles):
    said = tiles("show", "M-41").out
    for part in ("M-41", "red earthenware", "pond green", "cone 05", "crawling"):
        assert part in said


def test_show_says_whose_witness_cone_was_read(sample, tiles):
    cones = ("--witness-cone", "05@top", "--witness-cone", "04")
    tiles("firing", "add", "F60", *cones)
    for shelf, said in {"Top": "05 (its shelf's", "door": "04 (the", "": "04 (the"}.items():
        mark = f"N-{shelf}"
        log = ("log", "--mark", mark, "--body", "red earthenware", "--firing", "F60")
        assert tiles(*log, *(("--shelf", shelf) if shelf else ())).code == 0
        assert f"cone reached  {said} witness cone" in tiles("show", mark).out


def test_one_record_travels_to_an_empty_database(fresh, tiles, write, every_record):
    ran = tiles("import", write(every_record["M-41"]))
    assert (ran.code, ran.out) == (0, "1 of 1 on record: M-41\n")
    assert "clay body red earthenware" in ran.err
    assert shown(tiles, "M-41") == every_record["M-41"]


def test_the_whole_sample_travels_as_a_list(fresh, tiles, write, every_record):
    values = list(every_record.values())
    ran = tiles("import", write(values), "--yes")
    assert ran.code == 0
    assert ran.out.startswith(f"{len(values)} of {len(values)} on record: M-1, M-2")
    assert ran.out.endswith(f" and {len(values) - 8} more\n")
    for mark in ("M-1", "M-41", "M-102", values[-1]["mark"]):
        assert shown(tiles, mark) == every_record[mark]
    found = json.loads(tiles("find", "--json").out)
    assert len(found) == sum(len(each["areas"]) for each in values)


def test_what_is_retired_stays_so_in_an_empty_database(sample, tiles, tmp_path):
    assert tiles("glaze", "retire", "rain blue").code == 0
    assert tiles("body", "retire", "buff stoneware").code == 0
    whole, other = tmp_path / "all.json", ("--db", tmp_path / "other.db")
    assert tiles("export", whole).code == 0
    ran = tiles("import", whole, "--yes", *other)
    assert ran.code == 0, ran.err

    def retired(table, *where):
        rows = json.loads(tiles(table, "list", "--json", *where).out)
        return [row["name"] for row in rows if row["retired"]]

    assert retired("glaze", *other) == retired("glaze") == ["mustard yellow", "rain blue"]
    assert retired("body", *other) == ["buff stoneware"]
    # What is in use here stays in use, whatever a file from elsewhere says.
    assert tiles("glaze", "restore", "rain blue").code == 0
    assert tiles("import", whole, "--replace", "--yes").code == 0
    assert retired("glaze") == ["mustard yellow"]


def test_what_a_file_says_is_derived_is_worked_out_anew(fresh, tiles, write):
    claimed = RECORD | {"derived": {"stage": "inspected", "clean": True}}
    assert tiles("import", write(claimed)).code == 0
    assert shown(tiles, "N-1")["derived"]["stage"] == "planned"
    assert shown(tiles, "N-1")["derived"]["clean"] is None


def test_import_takes_bare_names_and_only_what_is_known(fresh, tiles, write):
    assert tiles("import", write({"mark": "N-1", "body": "any clay"})).code == 0
    record = shown(tiles, "N-1")
    assert record["body"]["name"] == "any clay"
    assert [area["number"] for area in record["areas"]] == [1]


def test_import_reads_a_file_with_a_byte_order_mark(fresh, tiles, tmp_path):
    file = tmp_path / "record.json"
    file.write_text(json.dumps(RECORD), encoding="utf-8-sig")
    assert tiles("import", file).code == 0


REFUSED = {
    "unknown key": ({"thicknes_mm": 1}, ["'thicknes_mm'", "tiles show MARK --json"]),
    "key of a layer": (
        {"areas": [{"number": 1, "layers": [{"glaze": "pond green", "coat": 2}]}]},
        ["'coat'", "area 1, layer 1"],
    ),
    "no body": ({"body": None}, ["body"]),
    "negative thickness": (
        {"areas": [{"number": 1, "layers": [{"glaze": "pond green", "thickness_mm": -1}]}]},
        ["thickness_mm", "-1", "area 1, layer 1"],
    ),
    "a cone as a number": ({"cone_reached": 5}, ["cone_reached", "5"]),
    "unknown clue": ({"clues": {"bisque_wipd": "no"}}, ["'bisque_wiped'"]),
    "defect on no area": (
        {"inspections": [{"inspected_on": "2026-05-01",
                          "defects": [{"defect": "crazing", "area": 4}]}]},
        ["area 4"],
    ),
    "a fault twice": (
        {"inspections": [{"inspected_on": "2026-05-01", "defects": [
            {"defect": "crazing", "severity": "slight"},
            {"defect": "crazing", "severity": "severe", "area": 1}]}]},
        ["crazing is named twice on area 1", "2026-05-01"],
    ),
    "another body of that name": (
        {"body": {"name": "red earthenware", "absorption_pct": 3.0}},
        ["red earthenware", "absorption_pct", "3.0", "12.5", "--keep-stored"],
    ),
    "another glaze of that name": (
        {"areas": [{"number": 1, "layers": [
            {"glaze": {"name": "pond green", "finish": "matt"}}]}]},
        ["pond green", "finish", "'matt'", "'gloss'"],
    ),
    "an unlikely cone": ({"cone_reached": "5"}, ["cone reached 5", "--yes"]),
    "mark taken": ({"mark": "M-41"}, ["M-41", "already on record"]),
    "bisque as glaze firing": ({"firing": "F03"}, ["F03 is a bisque firing"]),
}  # fmt: skip


@pytest.mark.parametrize(("changed", "told"), REFUSED.values(), ids=REFUSED)
def test_import_refuses_a_record_in_one_line_and_stores_nothing(
    sample, tiles, write, changed, told
):
    before = all_rows(sample)
    assert_one_line_error(tiles("import", write(RECORD | changed)), "record.json", *told)
    assert all_rows(sample) == before


def test_a_firing_that_differs_only_in_capitals_is_the_one_on_record(sample, tiles, write):
    given = ("--kiln", "top loader", "--witness-cone", "05@top", "--witness-cone", "04@bottom")
    assert tiles("firing", "add", "W1", *given).code == 0
    cones = [{"shelf": "Bottom", "cone": "04"}, {"shelf": "Top", "cone": "05"}]
    firing = {"name": "w1", "kiln": "Top Loader", "witness_cones": cones}
    assert tiles("import", write(RECORD | {"firing": firing})).code == 0
    assert shown(tiles, "N-1")["firing"]["kiln"] == "top loader"


def test_keep_stored_takes_the_tile_and_keeps_the_body_as_it_is(sample, tiles, write):
    other = {"body": {"name": "red earthenware", "absorption_pct": 3.0}}
    assert tiles("import", write(RECORD | other), "--keep-stored").code == 0
    assert shown(tiles, "N-1")["body"]["absorption_pct"] == 12.5


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[{"mark": "N-1",\n  "body": }]', ["is not JSON", "line 2", "column 11"]),
        ("", ["is not JSON", "line 1"]),
        ("3", ["record.json"]),
        ('"M-1"', ["record.json"]),
    ],
)
def test_import_says_where_a_file_is_no_record(sample, tiles, tmp_path, text, told):
    before = sample.read_bytes()
    file = tmp_path / "record.json"
    file.write_text(text)
    assert_one_line_error(tiles("import", file), *told)
    assert sample.read_bytes() == before


def test_import_of_an_unreadable_file_says_so(sample, tiles, tmp_path):
    assert_one_line_error(tiles("import", tmp_path / "no.json"), "no.json cannot be read")
    latin = tmp_path / "latin.json"
    latin.write_bytes('{"mark": "né"}'.encode("latin-1"))
    assert_one_line_error(tiles("import", latin), "latin.json is not UTF-8")


def mixed():
    """Two good records with two bad ones between them; a good one names a new body."""
    bad = [RECORD | {"mark": "N-2", "cone_reached": "99"}, {"mark": "N-3", "body": None}]
    return [RECORD, *bad, RECORD | {"mark": "N-4", "body": "new clay"}]


def test_import_is_all_or_nothing_and_names_every_bad_record(sample, tiles, write):
    before = all_rows(sample)
    ran = tiles("import", write(mixed()))
    *refused, last = ran.err.splitlines()
    assert (ran.code, ran.out) == (1, "")
    assert last.startswith("Error: 2 of 4 records were refused, so nothing was stored.")
    assert "--skip-refused" in last
    assert [line.startswith("Refused: ") for line in refused] == [True, True]
    assert "'99'" in refused[0]
    assert "record.json, record 2" in refused[0]
    assert "record.json, record 3" in refused[1]
    assert all_rows(sample) == before


def test_a_difference_within_the_file_is_not_said_to_be_on_record(sample, tiles, write):
    jar = {"name": "new jar", "finish": "matt"}
    two = [
        {"mark": mark, "body": "porcelain", "areas": [{"number": 1, "layers": [{"glaze": glaze}]}]}
        for mark, glaze in (("N-1", jar), ("N-2", jar | {"finish": "gloss"}))
    ]
    ran = tiles("import", write(two))
    assert_one_line_error(ran, "finish 'gloss', but stands earlier in this file with 'matt'")


def test_skip_refused_stores_the_good_and_writes_the_bad_to_import_again(
    sample, tiles, write, tmp_path
):
    ran = tiles("import", write(mixed()), "--skip-refused")
    assert (ran.code, ran.out) == (3, "2 of 4 on record: N-1, N-4\n")
    kept = tmp_path / f"record.refused-{date.today():%Y%m%d}.json"
    assert str(kept) in ran.err
    values = json.loads(kept.read_text(encoding="utf-8"))
    assert values == mixed()[1:3]
    values[0]["cone_reached"] = "05"
    values[1]["body"] = "red earthenware"
    ran = tiles("import", write(values, "again.json"))
    assert (ran.code, ran.out) == (0, "2 of 2 on record: N-2, N-3\n")


def test_a_refused_record_leaves_nothing_of_what_it_would_have_added(sample, tiles, write):
    before = counts(sample)
    bad = RECORD | {"mark": "N-2", "body": "refused clay", "firing": "F03"}
    assert tiles("import", write([RECORD, bad]), "--skip-refused").code == 3
    after = counts(sample)
    assert after["tile"] == before["tile"] + 1
    assert after["clay_body"] == before["clay_body"]


def test_replace_writes_over_the_tile_of_the_same_mark(sample, tiles, write):
    record = shown(tiles, "M-41")
    record["note"] = "corrected by hand"
    record["areas"][0]["layers"][0]["coats"] = 2
    assert_one_line_error(tiles("import", write(record)), "already on record")
    before = counts(sample)
    assert tiles("import", write(record), "--replace").code == 0
    assert counts(sample) == before
    again = shown(tiles, "M-41")
    assert again.pop("derived") == record.pop("derived")
    assert again == record


def test_replace_takes_a_look_away_only_where_that_is_said(sample, tiles, write):
    record = shown(tiles, "M-41")
    gone = record["inspections"].pop()
    look = f"the look of {gone['inspected_on']} ({', '.join(d['defect'] for d in gone['defects'])})"
    ran = tiles("import", write(record), "--replace", "--yes")
    assert_one_line_error(ran, f"M-41 would lose {look}", "--allow-loss")
    ran = tiles("import", write(record), "--replace", "--allow-loss")
    assert (ran.code, f"M-41 lost {look}" in ran.err) == (0, True)


def test_replace_takes_no_fault_out_of_a_look_and_no_picture_unsaid(sample, tiles, write):
    record = shown(tiles, "M-41")
    with_more = record | {"photos": [*record["photos"], {"file": "0" * 20 + ".png"}]}
    assert tiles("import", write(with_more), "--replace").code == 0
    look = record["inspections"][0]
    fault = look["defects"].pop()["defect"]
    ran = tiles("import", write(record), "--replace", "--yes")
    assert_one_line_error(ran, f"M-41 would lose the look of {look['inspected_on']}", fault,
                          "and 1 picture")  # fmt: skip
    assert len(shown(tiles, "M-41")["photos"]) == len(with_more["photos"])


def test_remove_waits_for_its_yes_without_keeping_others_out(sample, tiles):
    person = Keyboard("remove", "M-41")
    person.sees("Take M-41 off the record")
    assert tiles("inspect", "M-42", "--clean").code == 0
    person.press("n", ENTER)
    assert person.ends()[0] == 130
    assert shown(tiles, "M-41")["mark"] == "M-41"


def test_removed_is_printed_so_that_it_can_be_put_back(sample, tiles, tmp_path):
    before = shown(tiles, "M-41")
    assert_one_line_error(tiles("remove", "M-41"), "needs a yes", "--yes")
    ran = tiles("remove", "M-41", "--yes")
    assert ran.code == 0
    assert_one_line_error(tiles("show", "M-41"), "'M-41'")
    file = tmp_path / "removed.json"
    file.write_text(ran.out, encoding="utf-8")
    assert tiles("import", file).code == 0
    assert shown(tiles, "M-41") == before


def test_a_run_of_tiles_is_removed_with_a_line_for_each_or_none_of_them(
    sample, tiles, tmp_path, monkeypatch
):
    before = [shown(tiles, mark) for mark in ("M-9", "M-10", "M-11")]
    assert_one_line_error(tiles("remove", "M-9..M-11"), "removing M-9, M-10, M-11 needs a yes")
    assert_one_line_error(tiles("remove", "M-9", "M-9999", "--yes"), "'M-9999'")
    ran = tiles("remove", "M-9..M-10", "M-11", "--yes")
    file = tmp_path / "removed.json"
    file.write_text(ran.out, encoding="utf-8")
    assert tiles("import", file).code == 0
    assert [shown(tiles, mark) for mark in ("M-9", "M-10", "M-11")] == before
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    ran = tiles("remove", "M-9..M-11", "--yes")
    assert [line.split("  ")[0] for line in ran.out.splitlines()] == ["M-9", "M-10", "M-11"]
    assert before[0]["body"]["name"] in ran.out
    assert ran.err == "M-9, M-10, M-11 are off the record.\n"


def test_a_record_travels_between_back_ends(sample, tiles, write, postgresql_url, every_record):
    chosen = [every_record[mark] for mark in ("M-41", "M-19", "M-102")]
    ran = tiles("import", write(chosen), "--yes", "--db", postgresql_url)
    assert ran.code == 0, ran.err
    for record in chosen:
        assert shown(tiles, record["mark"], "--db", postgresql_url) == record


def test_import_points_out_a_name_that_is_very_like_one_on_record(sample, tiles, write):
    file = write({"mark": "Q-1", "body": "red earthenwear"})
    told = tiles("import", file).err
    assert "Check: clay body 'red earthenwear' is very like 'red earthenware'.\n" in told
    assert "  tiles body merge 'red earthenwear' 'red earthenware'\n" in told
