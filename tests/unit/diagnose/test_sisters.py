"""How soon a fault of fit came on any tile of the same glaze and clay."""

import pytest

from diagnose.comparing.over_tiles import over_tiles
from diagnose.own_tiles.sisters import SOON
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OTHER, POND, WHITE, tile
from tiles.cli import why_text
from tiles.records import forms

FIRED = {"name": "F1", "fired_on": "2024-01-01", "target_cone": "05"}


def crazed(mark, *days, defect="crazing", **made):
    """A tile that was looked at on these days, the fault seen on the last of them alone."""
    looks = [{"inspected_on": day, "defects": []} for day in days]
    looks[-1]["defects"] = [{"defect": defect}]
    values = tile(defect, glaze=made.pop("glaze", POND)).model_dump() | made
    return forms.TileRecord.model_validate(
        values | {"mark": mark, "firing": FIRED, "inspections": looks}
    )


LATE = crazed("T-1", "2024-01-02", "2024-06-01")
SOONER = crazed("T-2", "2024-01-02")


def seen_after(record, *others):
    return why(record, None, others)[0].case.facts[SOON]


def test_the_soonest_sister_tells_how_soon_the_pair_fails():
    assert seen_after(LATE).value == 152
    told = seen_after(LATE, SOONER)
    assert told.value == 1
    assert (
        told.said
        == "T-2, the same glaze on the same clay: seen at unloading, 1 day after the firing"
    )
    alone, both = ({c.name: c.share for c in why(LATE, None, o)[0].causes} for o in ((), [SOONER]))
    assert both["poor_fit"] > alone["poor_fit"]


def test_that_another_tile_tells_and_not_its_own_day_is_said():
    told = why(LATE, None, [SOONER])[0]
    said = (
        "T-2, the same glaze on the same clay: seen at unloading, 1 day after the firing. Here it "
        "was first seen 152 days after the firing, not there when looked at on 2024-01-02: little "
        "is made of that."
    )
    assert told.as_dict()["sister"] == said
    assert why_text.news(told, told.causes) == [said]
    assert why(LATE, None, [LATE])[0].as_dict()["sister"] is None


def test_a_cause_of_the_kiln_is_still_told_of_the_shelf_where_it_was_that():
    read = [{"shelf": "top", "cone": "05"}, {"shelf": "low", "cone": "07"}]
    fired = {"shelf": "low", "cone_reached": None, "firing": FIRED | {"witness_cones": read}}
    late = forms.TileRecord.model_validate(LATE.model_dump() | fired)
    (answer,) = why(late, None, [SOONER])
    assert answer.case.sister
    titles = {cause.name: cause.title for cause in answer.causes}
    assert titles["kiln_short"].startswith("its shelf")


def test_what_was_answered_of_the_tile_is_not_set_against_its_sister():
    answered = LATE.model_copy(update={"clues": {"came_later": "yes"}})
    both, silent = (
        {c.name: c.share for c in why(each, None, [SOONER])[0].causes} for each in (answered, LATE)
    )
    assert both == pytest.approx(silent)
    assert why(answered)[0].case.facts["came_later"].value == "yes"


def test_a_trial_of_the_coats_takes_nothing_from_what_a_sister_tells_of_the_pair():
    """More coats crazed again: that is no word against a glaze that does not fit."""
    change = {"trial_of": "T-1", "trial_defect": "crazing", "trial_change": "coats 3 -> 4"}
    area = LATE.areas[0].model_copy(deep=True)
    area.layers[0].coats = 4
    again = crazed("T-4", "2024-01-02", "2024-06-01", areas=[area.model_dump()], **change)
    (answer,) = why(LATE, None, [SOONER, again])
    (tried,) = answer.case.tried
    assert (tried.change, tried.came_again) == ("coats 3 -> 4", True)
    assert tried.move("poor_fit") > -0.05


def test_all_tiles_of_a_glaze_are_judged_as_each_is_by_itself():
    tiles = [LATE, SOONER]
    pooled = {each.title: each for each in over_tiles(tiles, "pond", "crazing").causes}
    alone = [{c.title: c.share for c in why(each, None, tiles)[0].causes} for each in tiles]
    assert {title: each.mean_share for title, each in pooled.items()} == pytest.approx(
        {title: (alone[0][title] + alone[1][title]) / 2 for title in pooled}
    )


@pytest.mark.parametrize(
    "other",
    [crazed("T-3", "2024-01-02", body=WHITE), crazed("T-3", "2024-01-02", glaze=OTHER),
     crazed("T-3", "2024-01-02", "2024-09-01"), crazed("T-3", "2024-01-02", defect="crawling")],
    ids=["another clay", "another glaze", "later still", "another fault"],
)  # fmt: skip
def test_no_other_tile_does(other):
    assert seen_after(LATE, other).value == 152


def test_a_fault_that_is_there_at_once_has_no_sisters():
    seen = crazed("T-1", "2024-01-02", "2024-06-01", defect="crawling")
    assert seen_after(seen, crazed("T-2", "2024-01-02", defect="crawling")).value == 152


BY_DAY_4 = crazed("T-1", "2024-01-05")


def shares(record, *others):
    return {cause.name: cause.share for cause in why(record, None, others)[0].causes}


def test_a_late_day_never_stands_in_for_what_was_there_at_its_own_first_look():
    """Another tile, clean on day 4 and crazed on day 32."""
    late = crazed("T-2", "2024-01-05", "2024-02-02")
    assert why(BY_DAY_4, None, [late])[0].as_dict()["sister"] is None
    told = shares(BY_DAY_4, late)
    assert told == pytest.approx(shares(BY_DAY_4))
    assert max(told, key=told.get) == "poor_fit"
    at_unloading = forms.TileRecord.model_validate(
        BY_DAY_4.model_dump() | {"firing": None, "clues": {"came_later": "no"}}
    )
    assert why(at_unloading, None, [late])[0].as_dict()["sister"] is None
    later = at_unloading.model_copy(update={"clues": {"came_later": "yes"}})
    assert why(later, None, [late])[0].as_dict()["sister"] is None
    assert why(later, None, [SOONER])[0].as_dict()["sister"]


def test_what_was_there_at_a_first_look_within_days_came_early():
    weeks = crazed("T-1", "2024-01-16")
    for name in ("moisture_expansion", "small_margin"):
        assert shares(BY_DAY_4)[name] < shares(weeks)[name]
    seen = why(LATE, None, [BY_DAY_4.model_copy(update={"mark": "T-2"})])[0].case
    assert SOON not in seen.facts
    assert seen.facts["days_before_first_look"].value == 4


def test_a_sister_counts_in_part_and_rules_nothing_out():
    """Of a tile without a day of firing, and without looks before the one that saw it."""
    undated = BY_DAY_4.model_copy(update={"firing": None})
    case = why(undated, None, [LATE.model_copy(update={"mark": "T-2"})])[0].case
    assert case.facts[SOON].value == 152
    assert case.facts[SOON].trust < 1
    (poor_fit,) = (row for row in case.rows if row.name == "poor_fit")
    assert poor_fit.opposition > 1
    assert not poor_fit.is_ruled_out
