"""A glaze over another glaze: what the overlap and own tiles say of the one beneath."""

from diagnose.case import weigh_case
from diagnose.fixes.bench import Bench
from diagnose.fixes.steps_coat import other_order
from diagnose.fixes.trials import step_trial
from diagnose.report import why
from tiles.records.forms import TileRecord

WHITE, BLUE, AMBER = ({"name": name, "role": "glaze"} for name in ("white", "blue", "amber"))


def tile(mark, *areas, failed=(), defect="crawling", also=()):
    """A tile with areas of two coats of each of some glazes from the clay up."""
    layers = [[{"glaze": each, "coats": 2} for each in area] for area in areas]
    seen = [{"defect": defect, "area": each} for each in failed]
    seen += [{"defect": other, "area": each} for other, each in also]
    return TileRecord.model_validate(
        {
            "mark": mark,
            "body": "red",
            "areas": [{"number": at, "layers": each} for at, each in enumerate(layers, start=1)],
            "inspections": [{"inspected_on": "2025-03-03", "defects": seen}],
        }
    )


BANDS = ((WHITE,), (WHITE, BLUE), (BLUE,))


def row(case, name):
    return next(each for each in case.rows if each.name == name)


def test_an_overlap_that_crawls_alone_speaks_for_the_glaze_beneath():
    case = weigh_case(tile("T-1", *BANDS, failed=(2,)), "crawling")
    assert case.facts["rises_in_overlap"].said == (
        "it is only on the overlap (area 2); one glaze alone (areas 1 and 3) is sound"
    )
    assert case.first.name == "glaze_beneath"
    assert row(weigh_case(tile("T-2", (BLUE,), failed=(1,)), "crawling"), "glaze_beneath").share < (
        0.01
    )


def test_an_area_without_the_fault_that_has_another_one_is_not_called_sound():
    record = tile("T-1", *BANDS, failed=(2,), defect="running", also=[("pinholes", 3)])
    said = weigh_case(record, "running").facts["rises_in_overlap"].said
    assert said.endswith("one glaze alone (areas 1 and 3) has no running")


def test_what_the_tile_shows_of_the_overlap_is_neither_asked_nor_to_be_fired():
    (told,) = why(tile("T-1", *BANDS, failed=(2,), defect="pinholes"))
    overlap = next(each for each in told.causes if each.name == "overlap")
    assert not overlap.confirm and not [each for each in overlap.not_recorded if "overlap" in each]
    (told,) = why(tile("T-2", (WHITE, BLUE), failed=(1,), defect="pinholes"))
    overlap = next(each for each in told.causes if each.name == "overlap")
    assert overlap.confirm and [each for each in overlap.not_recorded if "overlap" in each]


def test_own_tiles_over_a_glaze_speak_for_it_and_for_no_colour_nor_the_sum_of_coats():
    records = [
        *(tile(f"W-{n}", (WHITE, BLUE), failed=(1,)) for n in range(6)),
        *(tile(f"A-{n}", (AMBER, BLUE)) for n in range(5)),
        *(tile(f"B-{n}", (BLUE,)) for n in range(8)),
    ]
    (told,) = why(records[0], None, records[1:])
    moved = {each.name: each.own for each in told.case.rows if each.own}
    assert "glaze_beneath" in moved
    assert not {"colour_beneath", "coat_too_thick"} & moved.keys()
    assert told.case.first.name == "glaze_beneath"


def test_the_two_the_other_way_round_are_a_trial():
    case = weigh_case(tile("T-1", (WHITE, BLUE), failed=(1,)), "crawling")
    bench = Bench(case.view, "glaze_beneath", case.setting)
    made = other_order(bench)
    assert made.changes[0].said == "order of the glazes blue over white -> white over blue"
    layers = step_trial(bench, made).tile["areas"][0]["layers"]
    assert [each["glaze"]["name"] for each in layers] == ["blue", "white"]
    alone = weigh_case(tile("T-2", (BLUE,), failed=(1,)), "crawling").view
    assert other_order(Bench(alone, "glaze_beneath", "low_fire")) is None
