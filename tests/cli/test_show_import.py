"""A record travels: what ``show --json`` prints, ``import`` takes, and shows the same again."""

import json
from pathlib import Path

import pytest

from tests.cli.keyboard import ENTER, Keyboard
from tests.cli.records import RECORD, assert_one_line_error, shown

# The documented shape, key by key; the README carries the same as a table, checked there.
SHAPE = {
    "record": "mark made_on glazed_on form stood body bisque_cone bisque_firing firing shelf "
    "cone_reached areas clues inspections photos note "
    "trial_of trial_defect trial_change confirmed derived",
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
    "batch": "name mixed_on specific_gravity sieve_mesh dry_portion is_revived note is_retired",
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


def test_show_tells_what_was_confirmed_in_the_words_of_the_question(sample, tiles):
    *_, confirmed = shown(tiles, "M-51")["confirmed"]
    told = " ".join(tiles("show", "M-51").out.split())
    assert f" confirmed {confirmed}" in told
    assert told.count(" confirmed ") == 2
    assert "confirmed" not in tiles("show", "M-41").out


def test_one_record_travels_to_an_empty_database(fresh, tiles, write_json, every_record):
    ran = tiles("import", write_json(every_record["M-41"]))
    assert (ran.code, ran.out) == (0, "1 of 1 on record: M-41\n")
    assert "clay body red earthenware" in ran.err
    assert shown(tiles, "M-41") == every_record["M-41"]


def test_the_whole_sample_travels_as_a_list(fresh, tiles, write_json, every_record):
    values = list(every_record.values())
    ran = tiles("import", write_json(values), "--yes")
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


def test_what_a_file_says_is_derived_is_worked_out_anew(fresh, tiles, write_json):
    claimed = RECORD | {"derived": {"stage": "inspected", "clean": True}}
    assert tiles("import", write_json(claimed)).code == 0
    assert shown(tiles, "N-1")["derived"]["stage"] == "planned"
    assert shown(tiles, "N-1")["derived"]["clean"] is None


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
    kept = Path(ran.err.partition(" To put back: tiles import ")[2].strip().strip("'\""))
    assert json.loads(kept.read_text(encoding="utf-8")) == [json.loads(ran.out)]
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
    said, _, kept = ran.err.partition(" To put back: tiles import ")
    assert said == "M-9, M-10, M-11 are off the record."
    assert kept.strip().startswith(str(sample.parent))
    assert tiles("import", kept.strip().strip("'\"")).code == 0
    assert [shown(tiles, mark) for mark in ("M-9", "M-10", "M-11")] == before
    again = tiles("remove", "M-9", "--yes").err
    assert again.partition("tiles import ")[2] != kept  # an earlier file is never written over


@pytest.mark.parametrize("is_terminal", [True, False])
def test_what_cannot_be_kept_is_not_removed(sample, tiles, monkeypatch, is_terminal):
    def refuse(*_args, **_kwargs):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("sys.stdout.isatty", lambda: is_terminal)
    monkeypatch.setattr("pathlib.Path.write_text", refuse)
    assert_one_line_error(tiles("remove", "M-41", "--yes"), "cannot be written", "nothing was")
    assert shown(tiles, "M-41")["mark"] == "M-41"


def test_a_record_travels_between_back_ends(
    sample, tiles, write_json, postgresql_url, every_record
):
    chosen = [every_record[mark] for mark in ("M-41", "M-19", "M-102")]
    ran = tiles("import", write_json(chosen), "--yes", "--db", postgresql_url)
    assert ran.code == 0, ran.err
    for record in chosen:
        assert shown(tiles, record["mark"], "--db", postgresql_url) == record
