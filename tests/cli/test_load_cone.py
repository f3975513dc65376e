"""A cone of the whole load that differs from that of every shelf is told, and asked about."""

import json

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown
from tiles.records.forms import FiringRecord
from tiles.records.load_cone import load_against_shelves, load_questions

DIFFERS = "witness cone 03 of the whole load differs from that of every shelf"


def cones(*read):
    return [word for each in read for word in ("--witness-cone", each)]


def test_a_load_unlike_all_its_shelves_is_asked_about_and_shown(sample, tiles):
    add = ("firing", "add", "W1", "--target-cone", "05", *cones("03", "06@top", "07@low"))
    before = all_rows(sample)
    assert_one_line_error(tiles(*add), f"firing W1: {DIFFERS} (top 06, low 07)", "--yes")
    assert all_rows(sample) == before
    ran = tiles(*add, "--yes")
    assert ran.err.startswith(f"W1: {DIFFERS} (top 06, low 07), and counts for tiles on no shelf")
    assert DIFFERS in " ".join(tiles("firing", "show", "W1").out.split())
    assert DIFFERS in json.loads(tiles("firing", "show", "W1", "--json").out)["witness_cones_say"]
    assert tiles("firing", "change", "W1", "--remark", "both packs kept").err == ""


def test_what_a_merge_brings_together_names_the_shelf_and_is_told(sample, tiles):
    assert tiles("firing", "add", "W1", *cones("06@top")).code == 0
    assert tiles("firing", "add", "W2", *cones("03")).code == 0
    assert_one_line_error(tiles("firing", "merge", "W1", "W2"), "witness cones '06 (top)'")
    ran = tiles("firing", "merge", "W1", "W2", "--yes")
    assert ran.err.splitlines()[0] == "Taken over from W1: witness cones '06 (top)'."
    assert f"\nW2: {DIFFERS} (top 06)" in ran.err


def test_one_shelf_beside_the_load_is_told_and_not_asked_about(sample, tiles):
    assert tiles("firing", "add", "W1", *cones("03")).err == ""
    ran = tiles("firing", "change", "W1", *cones("06@top"))
    assert (ran.code, ran.err.startswith(f"W1: {DIFFERS} (top 06)")) == (0, True)
    assert_one_line_error(
        tiles("firing", "change", "W1", *cones("07@low")), f"firing W1: {DIFFERS}"
    )


def test_a_file_that_brings_such_a_load_is_asked_about_once(sample, tiles, tmp_path):
    sheet = tmp_path / "t.csv"
    sheet.write_text(
        'mark,body,firing,witness_cones\nQ-1,red earthenware,W1,"03; top=06; low=07"\n'
    )
    assert DIFFERS in tiles("import", sheet).err
    ran = tiles("import", sheet, "--yes")
    assert (ran.code, ran.err.count(DIFFERS)) == (0, 1)


def test_the_cone_of_its_own_shelf_counts_for_a_tile_whatever_the_load_read(sample, tiles):
    add = ("firing", "add", "W1", *cones("03", "06@top", "07@low"), "--yes")
    assert tiles(*add).code == 0
    log = ("log", "--body", "red earthenware", "--glaze", "pond green", "--firing", "W1", "--mark")
    for mark, shelf, cone in (("Q-1", "Top", "06"), ("Q-2", "low", "07"), ("Q-3", "middle", "03")):
        assert tiles(*log, mark, "--shelf", shelf).code == 0
        assert shown(tiles, mark)["derived"]["cone_reached"] == cone


@pytest.mark.parametrize(
    "read",
    [{None: "03"}, {"top": "06", "low": "07"}, {None: "06", "top": "06", "low": "07"}, {}],
    ids=["load alone", "shelves alone", "as one shelf", "nothing"],
)
def test_what_no_shelf_gainsays_is_not_told(read):
    witness = [{"shelf": shelf, "cone": cone} for shelf, cone in read.items()]
    record = FiringRecord(name="W1", witness_cones=witness)
    assert (load_against_shelves(record), load_questions(record)) == (None, [])


def test_of_a_bisque_the_load_counts_for_all_its_tiles():
    witness = [{"cone": "03"}, {"shelf": "top", "cone": "06"}, {"shelf": "low", "cone": "07"}]
    record = FiringRecord(name="B1", kind="bisque", witness_cones=witness)
    assert load_questions(record)[0].endswith("(top 06, low 07), and counts for all tiles of it.")
