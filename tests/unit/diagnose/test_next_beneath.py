"""What lies under the glaze: another colour, or none, goes first where own tiles point there."""

import pytest

from diagnose.changed import changed
from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.changes import Owned, candidates
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from diagnose.trials.changes import is_borne_out
from diagnose.view import View
from tests.unit.diagnose.test_next_tiles import POND, RED
from tiles.records import forms

INK, ROSE, MOSS = (
    {"name": name, "kind": "jar", "role": "underglaze"} for name in ("ink", "rose", "moss")
)
COBALT, COPPER = (INK | {"name": name} for name in ("cobalt blue", "copper green"))
OWNED = Owned(
    [forms.BodyRecord.model_validate(RED)],
    [forms.GlazeRecord.model_validate(each) for each in (POND, INK, MOSS, ROSE)],
)
BARE, ROSY = "under the glaze ink -> nothing", "under the glaze ink -> rose"


def over(*colours, mark="T-1", failed=(), glaze=POND, **batch):
    """A tile with an area over each colour (None: the clay), of which these areas ran."""
    top = {"glaze": glaze, "coats": 2} | ({"batch": batch} if batch else {})
    below = [[{"glaze": each, "coats": 2}] if each else [] for each in colours]
    seen = [{"defect": "running", "area": number} for number in failed]
    return forms.TileRecord.model_validate(
        {
            "mark": mark,
            "body": RED,
            "cone_reached": "05",
            "areas": [{"number": at, "layers": [*under, top]}
                      for at, under in enumerate(below, start=1)],
            "inspections": [{"inspected_on": "2024-05-01", "defects": seen}],
        }
    )  # fmt: skip


def own_tiles():
    ran = [over(INK, mark=f"I-{at}", failed=[1]) for at in range(6)]
    return ran + [over(each, mark=f"S-{name}-{at}") for at in range(6)
                  for name, each in (("rose", ROSE), ("bare", None))]  # fmt: skip


def proposed(record, others=(), owned=OWNED):
    return next_tiles(why(record, None, others)[0], owned, others=others)


def first_two(found):
    return {each.trial.change for each in found.tiles[:2]}


def test_where_own_tiles_part_by_it_another_colour_and_none_go_first():
    found = proposed(over(INK, failed=[1]), own_tiles())
    assert first_two(found) == {BARE, ROSY}
    for each in found.tiles[:2]:
        below, *above = each.trial.tile["areas"][0]["layers"]
        names = [layer["glaze"]["name"] for layer in (below, *above)]
        assert names == (["pond"] if each.trial.change == BARE else ["rose", "pond"])
        assert each.like.failed == 0 and each.like.tiles >= 6


def test_so_they_do_where_another_area_of_the_tile_is_sound_over_it():
    found = proposed(over(INK, ROSE, failed=[1]))
    assert ROSY in first_two(found)
    (rose,) = [each for each in found.tiles if each.trial.change == ROSY]
    assert rose.sound_areas == (2,)


def test_without_a_colour_beneath_none_is_thought_of():
    view = View(over(None, failed=[1]), over(None, failed=[1]).areas[0], "running")
    found = candidates(view, why(view.record)[0].case, OWNED)
    assert not any(each.kind == "under the glaze" for each in found)


def test_a_colour_of_another_role_or_for_another_cone_takes_no_colours_place():
    wash = forms.GlazeRecord.model_validate(INK | {"name": "rust", "role": "wash"})
    hot = forms.GlazeRecord.model_validate(INK | {"name": "hot", "cone_low": "6", "cone_high": "8"})
    record = over(INK, failed=[1])
    view = View(record, record.areas[0], "running")
    case = why(record)[0].case
    found = candidates(view, case, Owned(OWNED.bodies, [wash, hot, OWNED.glazes[3]]))
    told = {each.step.changes[0].said for each in found if each.kind == "under the glaze"}
    assert told == {BARE, ROSY}


def test_the_trial_bears_the_change_out_where_that_colour_lies_beneath():
    record = over(INK, failed=[1])
    view = View(record, record.areas[0], "running")
    found = candidates(view, why(record)[0].case, OWNED)
    rose, bare = (
        next(each for each in found if each.step.changes[0].said == said) for said in (ROSY, BARE)
    )
    for each, made in ((rose, over(ROSE)), (bare, over(None))):
        other = over(None) if each is rose else over(ROSE)
        assert is_borne_out(made, each.step.changes[0])
        assert not is_borne_out(other, each.step.changes[0])
        layers = changed(view, each.step, OWNED).areas[0].layers
        assert [one.glaze.name for one in layers] == [
            one.glaze.name for one in made.areas[0].layers
        ]


def test_a_fired_trial_of_another_colour_moves_the_causes():
    others = own_tiles()
    record = over(INK, failed=[1])
    trial = over(ROSE, mark="N-1").model_copy(
        update={"trial_of": "T-1", "trial_defect": "running", "trial_change": ROSY}
    )
    (tried,) = why(record, None, [*others, trial])[0].case.tried
    assert tried.moves and not tried.came_again
    assert ROSY not in {each.trial.change for each in proposed(record, [*others, trial]).tiles}


@pytest.mark.parametrize(
    ("glaze", "batch", "is_offered"),
    [
        (POND, {}, False),
        (POND | {"supplied_as": "liquid"}, {}, False),
        (POND | {"supplied_as": "dry"}, {}, True),
        (POND, {"name": "half", "dry_portion": "part of bag"}, True),
    ],
)
def test_the_whole_bag_is_mixed_only_of_what_comes_in_one(glaze, batch, is_offered):
    record = over(None, failed=[1], glaze=glaze, **batch)
    changes = [each.trial.change for each in proposed(record).tiles]
    told = fix(record)[0]
    changes += [each.change for each in told.trials]
    advice = " ".join(text for each in told.causes for text in each.advice)
    assert any("whole bag" in each for each in changes) is is_offered
    assert is_offered or ("bag" not in advice and "part_bag" not in {c.cause for c in told.causes})


@pytest.mark.parametrize(
    ("colours", "names", "wanted"),
    [
        ((COBALT,), ("copper green", "rose"), "rose"),
        ((COBALT,), ("copper green",), None),
        ((COBALT, COPPER), ("rose", "copper green"), "copper green"),
    ],
)
def test_fix_offers_a_colour_that_is_sound_beside_it_or_names_no_flux(colours, names, wanted):
    glazes = [forms.GlazeRecord.model_validate(INK | {"name": name}) for name in names]
    told = fix(over(*colours, failed=[1]), glazes=glazes)[0]
    change = f"under the glaze cobalt blue -> {wanted}"
    found = [each for each in told.trials if each.change.startswith("under the glaze")]
    assert [each.change for each in found if not each.change.endswith("nothing")] == (
        [change] if wanted else []
    )
    assert any(each.change.endswith("-> nothing") for each in found)
    if wanted:
        (trial,) = [each for each in found if each.change == change]
        assert trial.tile["areas"][0]["layers"][0]["glaze"] == {"name": wanted}
