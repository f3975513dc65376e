"""A glaze that brings a poison is no trial where a harmless one tells as well."""

from dataclasses import replace

import pytest

from diagnose.handling import poisons_in
from diagnose.next_tiles.changes import candidates
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OTHER, OWNED, POND, tile
from tiles.chemistry.hazards import every_hazard, poisons
from tiles.cli import next_text
from tiles.cli.fix_plan import Marked
from tiles.records import forms

BARIUM = forms.RecipeRecord.model_validate(
    {"lines": [{"material": name, "parts": parts} for name, parts in
               (("nepheline syenite", 60), ("barium carbonate", 20), ("kaolin", 20))]}
)  # fmt: skip
SEA = forms.GlazeRecord.model_validate(POND | {"name": "sea matt", "kind": "recipe"})
ALONE = replace(OWNED, bodies=OWNED.bodies[:1], bisque_cones=[], recipes={"sea matt": BARIUM})
HARMLESS = forms.GlazeRecord.model_validate(OTHER)


def proposed(*glazes, record=None):
    return next_tiles(why(record or tile("pinholes"))[0], replace(ALONE, glazes=glazes))


def to_sea(found):
    return [each for each in found.tiles if each.trial.change == "glaze pond -> sea matt"]


def test_the_screen_knows_every_poison_by_its_name():
    assert poisons() < set(every_hazard())
    assert poisons_in(SEA, BARIUM) == ["barium"] and poisons_in(SEA) == []
    jar = SEA.model_copy(update={"remark": "contains manganese"})
    assert poisons_in(jar) == ["manganese"]


@pytest.mark.parametrize(
    "label", [{"food_label": "not for food, contains lead"}, {"colour": "cadmium red"}]
)
def test_a_jar_whose_label_names_a_poison_is_not_proposed_as_the_other_glaze(label):
    jar = HARMLESS.model_copy(update={"name": "old amber"})

    def changes(*glazes):
        return [each.trial.change for each in proposed(*glazes).tiles]

    assert "glaze pond -> old amber" in changes(jar.model_copy(update={"food_label": "lead free"}))
    found = changes(jar.model_copy(update=label), HARMLESS)
    assert found and "glaze pond -> old amber" not in found


def test_where_anything_else_tells_no_barium_glaze_is_proposed():
    found = proposed(SEA, HARMLESS)
    assert found.tiles and not to_sea(found)
    assert all(each.holds == () for each in found.tiles)


def test_where_nothing_else_tells_it_is_and_says_so(monkeypatch):
    def of_glazes(*asked):
        return [each for each in candidates(*asked) if each.kind == "glaze"]

    monkeypatch.setattr("diagnose.next_tiles.wanted.candidates", of_glazes)
    found = proposed(SEA)
    (only,) = to_sea(found)
    assert only.holds == ("barium",)
    marked = [Marked(f"N-{at}", "pinholes", each) for at, each in enumerate(found.trials)]
    screen = " ".join(" ".join(next_text.screen(found, marked, is_planned=False)).split())
    assert "It holds barium: proposed only because no other glaze on record would tell." in screen
    assert next_text.as_dict(found, marked)["tiles"][0]["holds"] == ["barium"]


def test_what_the_failed_tile_holds_already_is_nothing_new():
    record = tile("pinholes")
    record.areas[0].layers[0].recipe = BARIUM
    assert to_sea(proposed(SEA, record=record))[0].holds == ()
