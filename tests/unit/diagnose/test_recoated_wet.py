"""A coat brushed over one that is still wet: what speaks for it, what is done, what is tried."""

import pytest

from diagnose.case import weigh_case
from diagnose.changed import changed
from diagnose.comparing.factors import FACTORS, value_of
from diagnose.measures.of_area import measures
from diagnose.next_tiles.changes import Owned, candidates
from diagnose.own_tiles.say import joined, your_tiles_say
from diagnose.report import why
from diagnose.view import View
from tests.unit.diagnose.test_comparison import tile
from tiles.records import forms

WET, THICK = "recoated_wet", "coat_too_thick"


def coated(number, coats, beneath, defects=(), **more):
    """A tile with an area for each number of coats; a fault is on those named beside it."""
    areas = [
        {"number": n, "layers": [{"glaze": "pond", "coats": n, "beneath": beneath}]}
        for n in range(1, coats + 1)
    ]
    seen = [{"defect": "crawling", "area": each} for each in defects]
    looks = [{"inspected_on": "2024-05-01", "defects": seen}]
    return tile(number, areas=areas, inspections=looks, cone_reached="05", **more)


FAILED = coated(1, 3, "damp", [2, 3])


def row_of(case, name):
    return next(row for row in case.rows if row.name == name)


def test_damp_beneath_speaks_for_it_and_dry_rules_it_out():
    damp, dry = (weigh_case(coated(1, 3, state, [3]), "crawling") for state in ("damp", "dry"))
    assert row_of(damp, WET).support > 2
    assert (
        row_of(damp, WET).share
        > 2 * row_of(weigh_case(tile(1, defects=["crawling"]), "crawling"), WET).share
    )
    assert row_of(dry, WET).is_ruled_out
    assert damp.first.name == THICK  # one tile with three coats: the commoner one goes first


def test_a_single_coat_on_bare_clay_lies_over_no_damp_one():
    facts = [measures(FAILED, number) for number in (1, 2)]
    assert [fact.get("beneath") and fact["beneath"].value for fact in facts] == [None, "damp"]
    assert value_of(FACTORS["beneath"], FAILED, FAILED.areas[0]) is None
    over = [{"glaze": {"name": "ink", "role": "underglaze"}, "coats": 1}, FAILED.areas[0].layers[0]]
    record = tile(2, areas=[{"number": 1, "layers": over}])
    assert measures(record, 1)["beneath"].value == "damp"


def own():
    wet = [coated(10 + n, 3, "damp", [2, 3]) for n in range(8)]
    return wet + [coated(30 + n, 3, "dry") for n in range(8)]


def test_own_tiles_that_part_damp_from_dry_are_weighed_and_their_coats_are_not():
    told = your_tiles_say([*own(), FAILED], FAILED, 3, "crawling")
    assert {"beneath", "coats"} <= {each.measure for each in told.lessons}
    alone = weigh_case(FAILED, "crawling")
    case = joined(alone, told)
    assert row_of(case, WET).share > 2 * row_of(alone, WET).share
    assert row_of(case, THICK).own == pytest.approx(0)
    (said,) = [each.say for each in case.own.lessons if each.measure == "beneath"]
    assert said.endswith("8 did; their number of coats tells nothing beyond that.")


def test_coats_still_count_where_as_many_crawl_over_a_dry_one():
    dry = [coated(30 + n, 3, "dry", [3] * (n % 2)) for n in range(12)]
    told = your_tiles_say([*own()[:8], *dry, FAILED], FAILED, 3, "crawling")
    case = joined(weigh_case(FAILED, "crawling"), told)
    assert row_of(case, THICK).own > 0


def test_the_advice_is_to_let_each_coat_dry():
    (answer,) = why(FAILED, others=own())
    (wet,) = [each for each in answer.causes if each.name == WET]
    assert wet.fixes[0].startswith("Let each coat dry to the touch")
    assert any("over a damp layer, 8 did" in each for each in wet.your_tiles)


def test_the_trial_of_it_is_the_same_tile_over_a_dry_coat():
    (answer,) = why(FAILED)
    view = View(FAILED, FAILED.areas[2], "crawling")
    found = [each for each in candidates(view, answer.case, Owned()) if WET in each.acts_on]
    (made,) = [each.step for each in found if each.step.key == "recoat_dry"]
    layer = changed(view, made, Owned()).areas[2].layers[0]
    assert (layer.beneath, layer.coats) == ("dry", 3)


@pytest.mark.parametrize(("came_again", "is_first"), [(False, True), (True, False)])
def test_a_trial_made_so_counts_by_its_record_whatever_its_change_is_called(came_again, is_first):
    seen = [{"defect": "crawling"}] * came_again
    layers = [{"glaze": "pond", "coats": 3, "beneath": "dry"}]
    trial = tile(
        50,
        areas=[{"number": 1, "layers": layers}],
        inspections=[{"inspected_on": "2024-06-01", "defects": seen}],
        trial_of="T-1",
        trial_defect="crawling",
        trial_change="first coat left to dry",
    )
    before = row_of(why(FAILED)[0].case, WET).share
    (answer,) = why(FAILED, others=[trial])
    assert (row_of(answer.case, WET).share > before) is is_first


def test_a_note_tells_it_where_the_field_is_blank():
    layers = [{"glaze": "pond", "coats": 2}]
    noted = tile(
        3,
        areas=[{"number": 1, "layers": layers}],
        defects=["crawling"],
        note="2nd coat over wet 1st",
    )
    case = weigh_case(noted, "crawling")
    assert case.facts["beneath"].value == "damp"
    assert case.facts["beneath"].note
    assert isinstance(noted, forms.TileRecord)
