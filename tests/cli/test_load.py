"""``tiles load``: planned tiles into the kiln, and what is asked and told of them."""

import shlex

import pytest

from tests.cli.records import all_rows, assert_one_line_error, shown
from tests.cli.test_plan import SET, planned


@pytest.fixture
def ready(sample, tiles):
    """Four planned tiles and a firing they may go into."""
    planned(tiles("plan", *SET, "--first-mark", "P-08", "--json"))
    assert tiles("firing", "add", "F50", "--target-cone", "05").code == 0
    return sample


def test_load_puts_a_run_of_marks_into_a_firing(ready, tiles):
    ran = tiles("load", "F50", "P-08..P-10", "p-11", "--shelf", "top")
    assert (ran.code, ran.out) == (0, "4 tiles in F50.\n")
    for mark in ("P-08", "P-09", "P-10", "P-11"):
        record = shown(tiles, mark)
        assert (record["firing"]["name"], record["shelf"]) == ("F50", "top")
        assert record["derived"]["stage"] == "loaded"


def batches(tiles, mark):
    layers = [layer for area in shown(tiles, mark)["areas"] for layer in area["layers"]]
    return [layer["batch"] and layer["batch"]["name"] for layer in layers]


def test_load_notes_the_batch_on_the_tiles_whose_glaze_has_it(ready, tiles):
    assert tiles("batch", "add", "pond green", "PG 2").code == 0
    ran = tiles("load", "F50", "P-08..P-11", "--batch", "pg 2")
    assert (ran.code, "2 tiles from batch pg 2." in ran.err) == (0, True)
    assert batches(tiles, "P-08") == ["PG 2"] * 3
    assert batches(tiles, "P-09") == [None] * 3
    assert shown(tiles, "P-08")["derived"]["stage"] == "loaded"


def test_load_refuses_a_batch_that_is_none_of_its_glazes_or_is_another_one(ready, tiles):
    for name in ("PG 1", "PG 2"):
        assert tiles("batch", "add", "pond green", name).code == 0
    assert tiles("load", "F50", "P-08", "--batch", "PG 1").code == 0
    before = all_rows(ready)
    ran = tiles("load", "F50", "P-08..P-11", "--batch", "PG 3")
    assert_one_line_error(ran, "no glaze on these tiles has a batch called 'PG 3'", "'PG ")
    ran = tiles("load", "F50", "P-08..P-11", "--batch", "PG 2")
    assert_one_line_error(ran, "P-08 is on record with pond green from batch 'PG 1'", "change")
    assert all_rows(ready) == before


def test_load_says_where_a_batch_could_be_named(ready, tiles):
    assert "batch" not in tiles("load", "F50", "P-08").err
    assert tiles("batch", "add", "pond green", "PG 1").code == 0
    ran = tiles("load", "F50", "P-08", "P-09", "P-10")
    told = "No batch is noted for pond green on P-08, P-10. Where it is from one of these, name it"
    assert told in ran.err
    assert "No batch" not in tiles("load", "F50", "P-08", "P-10", "--batch", "PG 1").err


def test_a_tile_from_none_of_the_batches_is_noted_as_from_a_fresh_jar(ready, tiles):
    """An invitation to name one of those on record alone would make a false record."""
    assert tiles("batch", "add", "pond green", "PG 1", "--revived").code == 0
    told = tiles("load", "F50", "P-08").err.partition("From another jar: ")[2]
    add, _, again = told.partition(", then ")
    assert tiles(*shlex.split(add.strip("'"))[1:]).code == 0
    assert tiles("load", "F50", "P-08", *shlex.split(again.strip()[:-1])).code == 0
    assert set(batches(tiles, "P-08")) == {"fresh jar"}


def test_a_run_of_marks_with_blanks_typed_without_quotes_is_told_of_them(ready, tiles):
    assert_one_line_error(tiles("load", "F50", "T", "06..T", "07"), "'06..T'", '"T 06..T 12"')


@pytest.mark.parametrize(
    ("shelf", "is_told"),
    [("botom", True), ("BOTTOM", False), ("attic", False), ("bottom 2", False)],
)
def test_load_says_that_a_shelf_is_new_where_one_like_it_is_on_record(ready, tiles, shelf, is_told):
    ran = tiles("load", "F50", "P-08", "--shelf", shelf)
    told = f"Shelf {shelf!r} is new. If 'bottom' was meant"
    assert (ran.code, told in ran.err) == (0, is_told)
    assert "is new" not in tiles("load", "F50", "P-09", "--shelf", shelf).err


def test_load_says_that_another_shelf_was_planned_with_the_way_back(ready, tiles):
    assert tiles("change", "P-08..P-09", "--shelf", "bottom").code == 0
    assert "planned" not in tiles("load", "F50", "P-09", "--shelf", "Bottom").err
    ran = tiles("load", "F50", "P-08..P-11", "--shelf", "top")
    told, _, back = ran.err.strip().partition(" To put back: ")
    assert (ran.code, told) == (0, "P-08 was planned for shelf bottom, not top.")
    assert shown(tiles, "P-08")["shelf"] == "top"
    assert tiles(*shlex.split(back)[1:]).code == 0
    assert shown(tiles, "P-08")["shelf"] == "bottom"
    assert "planned" not in tiles("load", "F50", "P-08", "--shelf", "top").err, "moved, not planned"


def test_load_refuses_a_shelf_that_no_record_takes(ready, tiles):
    assert_one_line_error(tiles("load", "F50", "P-08", "--shelf", "x" * 200), "shelf", "120")
    assert_one_line_error(tiles("load", "F50", "P-08", "--shelf", "  "), "shelf", "empty")
    assert shown(tiles, "P-08")["shelf"] is None


def test_a_bisque_cone_of_the_tiles_beside_another_witness_cone_is_told_with_the_way_out(
    sample, tiles
):
    planned(tiles("plan", *SET, "--first-mark", "P-1", "--bisque-cone", "04", "--json"))
    for add in (("B9", "--kind", "bisque"), ("F50",)):
        assert tiles("firing", "add", *add).code == 0
    assert tiles("change", "P-1..P-3", "--bisque-firing", "B9").err == ""
    mend = 'tiles change P-1..P-3 --bisque-cone ""'
    told = (
        "B9 read cone 08, but P-1..P-3 say bisque cone 04, and a tile's own counts. "
        f"If 08 is right: {mend}\n"
    )
    assert tiles("firing", "change", "B9", "--witness-cone", "08").err == told
    assert tiles("load", "F50", "P-3", "P-1..P-4").err == told
    alone = told.replace("P-1..P-3", "P-4").replace("say", "says")
    assert tiles("change", "P-4", "--bisque-firing", "B9").err == alone
    card = tiles("show", "P-4").out
    assert "bisque  cone 04, B9 (which read cone 08; the tile's own counts)" in card
    assert tiles(*shlex.split(mend)[1:]).err.startswith("To put back: ")
    assert tiles("load", "F50", "P-1..P-3").err == ""
    assert "bisque  B9 (read cone 08)\n" in tiles("show", "P-1").out
    only_set = ("--witness-cone", "", "--target-cone", "04")
    assert tiles("firing", "change", "B9", *only_set).code == 0
    assert "bisque  B9 (set for cone 04)\n" in tiles("show", "P-1").out


def test_load_says_when_no_witness_cone_stands_on_the_shelf(ready, tiles):
    ran = tiles("load", "F31", "P-08", "P-09", "--shelf", "botom")
    assert (ran.code, ran.out) == (0, "2 tiles in F31.\n")
    assert "shelf 'botom', only for middle, bottom: no cone reached" in ran.err
    assert "P-08, P-09" in ran.err


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["F50", "P-08..P-12"], ["'P-12'"]),
        (["F50", "P-08", "M-41"], ["M-41 was fired in"]),
        (["F99", "P-08"], ["'F99'"]),
        (["F03", "P-08"], ["F03 is a bisque firing"]),
        (["F29", "P-08"], ["target cone 6", "pond green", "--yes"]),
        (["F50", "P-11..P-08"], ["not a run of marks"]),
    ],
    ids=" ".join,
)
def test_load_is_all_or_nothing(ready, tiles, arguments, told):
    before = all_rows(ready)
    assert_one_line_error(tiles("load", *arguments), *told)
    assert all_rows(ready) == before


def test_load_takes_an_unlikely_firing_when_told_so(ready, tiles):
    assert tiles("load", "F29", "P-08", "--yes").code == 0
    assert shown(tiles, "P-08")["firing"]["name"] == "F29"


def test_a_look_at_a_tile_that_was_never_fired_is_questioned(ready, tiles):
    before = all_rows(ready)
    look = ("inspect", "P-08", "--clean")
    told = "P-08 is on record as planned: no firing", "tiles load FIRING P-08", "--yes"
    assert_one_line_error(tiles(*look), *told)
    assert all_rows(ready) == before
    assert tiles("inspect", "P-09", "--clean", "--cone-reached", "05").code == 0
    assert tiles("load", "F50", "P-10").code == 0
    assert tiles("inspect", "P-10", "--clean").code == 0
    assert tiles(*look, "--yes").code == 0
    assert tiles(*look).code == 0


def test_a_planned_tile_becomes_inspected_by_what_is_recorded(ready, tiles):
    """No flag to keep: planned, glazed, loaded, fired, inspected follow from the record."""

    def stage():
        return shown(tiles, "P-08")["derived"]["stage"]

    stages = [stage()]
    for command in (
        ("change", "P-08", "--glazed-on", "2026-06-01"),
        ("load", "F50", "P-08"),
        ("firing", "change", "F50", "--fired-on", "2026-06-20", "--witness-cone", "05"),
        ("inspect", "P-08", "--clean", "--inspected-on", "2026-06-22"),
    ):
        assert tiles(*command).code == 0
        stages.append(stage())
    assert stages == ["planned", "glazed", "loaded", "fired", "inspected"]
    assert shown(tiles, "P-08")["derived"]["cone_reached"] == "05"


def test_a_trial_for_one_kiln_is_questioned_before_it_goes_into_another(ready, tiles):
    failed, other = shown(tiles, "M-60")["firing"]["kiln"], "attic kiln"
    for add in (("kiln", "add", other), ("firing", "add", "W8", "--kiln", failed)):
        assert tiles(*add).code == 0
    assert tiles("firing", "add", "W9", "--kiln", other).code == 0
    of = ("--trial-of", "M-60", "--trial-defect", "crawling", "--yes")
    for mark, change in (("P-08", "coats 3 -> 2"), ("P-09", f"kiln {failed} -> {other}; coats")):
        assert tiles("change", mark, *of, "--trial-change", change).code == 0
    before = all_rows(ready)
    told = f"P-08 is a trial for {failed}, and W9 is in {other}", f"a firing in {failed}"
    assert_one_line_error(tiles("load", "W9", "P-08..P-10"), *told)
    assert_one_line_error(tiles("load", "W8", "P-09"), f"P-09 is a trial for {other}")
    assert all_rows(ready) == before
    for loaded in (("W9", "P-09"), ("W8", "P-08"), ("W9", "P-08", "--yes")):
        assert tiles("load", *loaded).code == 0


def test_load_says_which_labels_a_firing_goes_over_a_cadmium_colour_first(ready, tiles):
    assert "label" not in tiles("load", "F50", "P-10").err
    assert tiles("firing", "change", "F50", "--target-cone", "03").code == 0
    said = ("--remark", "cadmium inclusion stain", "--cones", "06-04")
    assert tiles("glaze", "add", "fire red", "--role", "underglaze", *said).code == 0
    log = ("log", "--body", "porcelain", "--yes", "--glaze", "fire red", "--mark")
    beneath = ("--glaze", "white slip", "--glaze", "pond green", "--glaze", "fire red")
    assert tiles(*log[:4], *beneath, "--mark", "P-20").code == 0
    told = "Note: cone 03 is above the top of the label of fire red"
    burnt = "A cadmium colour burns out there: fire red (common practice).\n"
    said = f"{told} (cone 06 to 04), pond green (cone 06 to 04). {burnt}"
    assert said in tiles("load", "F50", "P-20", "--yes").err
    assert told in tiles(*log, "P-21", "--firing", "F50").err


def test_a_tile_loaded_into_a_firing_that_is_over_is_told_with_the_way_out(sample, tiles):
    assert tiles("firing", "add", "F60", "--fired-on", "2026-01-10").code == 0
    log = ("log", "--body", "red earthenware", "--mark")
    assert [tiles(*log, f"P-{at}").code for at in (1, 2, 3, 4)] == [0] * 4
    assert tiles("load", "F60", "P-1").err == ""
    assert tiles("inspect", "P-1", "--clean", "--inspected-on", "2026-01-12").code == 0
    assert tiles("load", "F60", "P-2").err == (
        "Check: P-2: F60 was fired on 2026-01-10, and tiles of it were looked at on 2026-01-12. "
        'If it was not in that load: tiles change P-2 --firing ""\n'
    )
    told = 'If they were not in that load: tiles change P-3..P-4 --firing ""\n'
    assert tiles("load", "F60", "P-3..P-4").err.endswith(told)
