"""A runny recipe with much copper or manganese: less of it is offered first, and by itself.

Copper or manganese down to 2 to 3 %: common practice, no source. The recipes are invented.
"""

import pytest

from diagnose.fixes.aims import Body
from diagnose.fixes.glass import Figures, per_hundred
from diagnose.fixes.recipe import Desk
from tiles.chemistry.formula import analyse

BASE = {"nepheline syenite": 38, "whiting": 16, "soda borate frit": 16, "kaolin": 12, "silica": 18}


def _work(extras, recipe=BASE):
    now = Figures(per_hundred(analyse(recipe, extras=extras)), 1222.0, counts_boron=False)
    return Desk(now, "", "6", Body("the clay"), "mid_range").fixes("running", "fluid_recipe")


@pytest.mark.parametrize(
    "extras",
    [
        {"copper carbonate": 8},
        {"copper oxide": 5},
        {"manganese dioxide": 6},
        {"manganese dioxide": 5, "copper carbonate": 2},
    ],
    ids=" and ".join,
)
def test_much_of_it_comes_down_to_a_full_colour(extras):
    fixes, said = _work(extras)
    (change,) = fixes[0].changes
    assert change.what == next(iter(extras))
    assert sum(extras.values()) + change.after - change.before == 3
    assert fixes[0].reaches
    assert said[0].startswith(f"Copper and manganese {sum(extras.values())} -> 3 parts")


def test_the_melt_gets_stiffer_by_it_and_the_base_stays():
    fix = _work({"copper carbonate": 8})[0][0]
    melt = next(each for each in fix.predictions if each.quantity.startswith("melt"))
    assert melt.change > 0.2
    last = fix.blend[-1].parts
    assert {name: last[name] for name in BASE} == BASE and last["copper carbonate"] == 3


def test_the_ways_that_leave_the_colour_follow():
    fixes, said = _work({"copper carbonate": 8})
    assert len(fixes) > 1
    for each in fixes[1:]:
        assert not any(change.what == "copper carbonate" for change in each.changes)
    assert any(each.startswith("Twice as stiff") for each in said)


@pytest.mark.parametrize("extras", [{}, {"copper carbonate": 3}], ids=["none", "a full colour"])
def test_where_there_is_not_much_nothing_is_said_of_it(extras):
    fixes, said = _work(extras)
    assert fixes and all(said)
    assert not any("opper" in each for each in said)
    assert not any(c.what == "copper carbonate" for each in fixes for c in each.changes)
