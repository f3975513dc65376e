"""Another version of a recipe as the one change of a trial."""

import pytest

from diagnose.changed import changed
from diagnose.fixes.bench import Bench
from diagnose.fixes.trials import step_trial
from diagnose.next_tiles.changes import Owned, candidates
from diagnose.next_tiles.odds import AS_IT_WAS, inspected, like
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from diagnose.trials import changes as trial_changes
from diagnose.view import View
from tests.unit.diagnose.test_next_tiles import OWNED, POND, tile
from tiles.records import forms

CHANGE = "recipe version 1 -> 2"


def recipe(version, clay):
    """The more clay, the more the raw coat shrinks."""
    parts = {"soda feldspar": 50, "whiting": 15, "kaolin": clay, "calcined kaolin": 40 - clay}
    lines = [{"material": name, "parts": amount} for name, amount in parts.items() if amount]
    return forms.RecipeRecord.model_validate({"version": version, "lines": lines})


FIRST, SECOND = recipe(1, 35), recipe(2, 10)
OWN = POND | {"kind": "recipe"}
STOCK = Owned(OWNED.bodies, OWNED.glazes, {}, [], {}, versions={"pond": [SECOND, FIRST]})


def made(version=FIRST, mark="T-1", *, failed=True, **more):
    """A tile that crawled, or came out sound, by a version of the recipe; None: not recorded."""
    record = tile("crawling", glaze=OWN, **more).model_copy(update={"mark": mark})
    layer = record.areas[0].layers[0].model_copy(update={"recipe": version})
    record = record.model_copy(
        update={"areas": [record.areas[0].model_copy(update={"layers": [layer]})]}
    )
    look = record.inspections[0]
    looks = [look if failed else look.model_copy(update={"defects": []})]
    return record.model_copy(update={"inspections": looks})


def thought_of(record, stock=STOCK):
    case = why(record)[0].case
    view = View(record, record.areas[0], "crawling")
    return view, {each.step.changes[0].said: each for each in candidates(view, case, stock)}


def test_another_version_is_proposed_and_tells_of_the_recipe():
    found = {each.trial.change: each for each in next_tiles(why(made())[0], STOCK).tiles}
    shrinks = "the glaze itself shrinks too much as it dries (much raw clay, zinc or magnesia)"
    told = found[CHANGE]
    assert dict(told.if_sound)[shrinks] > dict(told.if_again)[shrinks]
    (layer,) = told.trial.tile["areas"][0]["layers"]
    assert forms.RecipeRecord.model_validate(layer["recipe"]) == SECOND


def test_the_changed_tile_is_of_that_version_and_of_no_known_batch():
    record = made()
    batch = forms.BatchRecord(name="May")
    record.areas[0].layers[0].batch = batch
    view, found = thought_of(record)
    layer = changed(view, found[CHANGE].step, STOCK).areas[0].layers[0]
    assert (layer.recipe, layer.batch) == (SECOND, None)
    trial = step_trial(Bench(view, "", ""), found[CHANGE].step)
    assert "batch" not in trial.tile["areas"][0]["layers"][0]
    assert "as then" not in trial.tile["note"]


@pytest.mark.parametrize("record", [made(SECOND), made(None)])
def test_the_version_that_it_has_is_no_change_nor_is_one_of_a_tile_without(record):
    assert CHANGE not in thought_of(record)[1]


def test_versions_with_the_same_lines_are_no_change():
    same = Owned(OWNED.bodies, OWNED.glazes, versions={"pond": [recipe(2, 35), FIRST]})
    assert CHANGE not in thought_of(made(), same)[1]


def test_a_trial_is_known_by_its_version():
    view, found = thought_of(made())
    trial = made(SECOND, "T-2", failed=False)
    trial = trial.model_copy(update={"trial_of": "T-1", "trial_defect": "crawling"})
    for change in (CHANGE, "the one with less clay"):
        fired = trial.model_copy(update={"trial_change": change})
        assert (
            trial_changes.tested(fired, view, list(found.values()), STOCK).step.changes[0].said
            == CHANGE
        )


def test_own_tiles_of_another_version_are_not_like_the_tile_as_it_was():
    others = inspected([made(FIRST, "S-1"), made(SECOND, "S-2"), made(None, "S-3")])
    record = made()
    assert like(others, record, 1, "crawling", AS_IT_WAS).tiles == 2
    view, found = thought_of(record)
    then = changed(view, found[CHANGE].step, STOCK)
    assert like(others, then, 1, "crawling", "recipe version").tiles == 1


def test_a_sound_twin_of_another_version_makes_it_go_first():
    others = [made(SECOND, "S-1", failed=False)]
    found = next_tiles(why(made(), None, others)[0], STOCK, others=others)
    assert found.tiles[0].trial.change == CHANGE
    assert found.tiles[0].twin.marks == ("S-1",)
