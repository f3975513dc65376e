"""Laws of the fixes over random recipes and tiles."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.fixes.bounds import MOST_PARTS, Aim
from diagnose.fixes.glass import Figures, per_hundred
from diagnose.fixes.of_tile import fix
from diagnose.fixes.search import search
from tiles.chemistry.cones import in_range
from tiles.chemistry.formula import analyse
from tiles.records import forms

MATERIALS = (
    *("soda feldspar", "nepheline syenite", "soda borate frit", "high alkali frit"),
    *("calcium borate frit", "whiting", "kaolin", "silica", "zinc oxide", "talc"),
)
AIMS = (
    *(("expansion down", "expansion", -0.4), ("expansion up", "expansion", 0.4)),
    *(("viscosity up", "viscosity", 0.3), ("viscosity down", "viscosity", -0.3)),
    *(("raw clay down", "raw_clay", -4.0), ("gas down", "loss", -2.0)),
)


@st.composite
def recipes(draw):
    """Three or four materials that melt, and clay and silica."""
    fluxes = draw(st.lists(st.sampled_from(MATERIALS[:6]), min_size=2, max_size=3, unique=True))
    parts = {name: draw(st.integers(8, 50)) for name in fluxes}
    return parts | {"kaolin": draw(st.integers(4, 28)), "silica": draw(st.integers(4, 35))}


@pytest.mark.slow
@settings(max_examples=8, deadline=None)
@given(recipes(), st.sampled_from(AIMS), st.sampled_from(["low_fire", "mid_range"]))
def test_a_change_is_small_never_negative_and_always_the_same(recipe, aim, setting):
    word, quantity, by = aim
    temperature_c = 1046.0 if setting == "low_fire" else 1222.0
    now = Figures(per_hundred(analyse(recipe)), temperature_c, setting == "low_fire")
    wanted = Aim(word, quantity, getattr(now, quantity), getattr(now, quantity) + by)
    found = search(now, wanted, setting)
    assert len(found) <= 3
    for each in found:
        assert 0 < each.parts_moved <= MOST_PARTS
        assert all(parts > 0 for parts in each.after.recipe.parts.values())
        moved = getattr(each.after, quantity) - wanted.now
        assert moved * by > 0
        if each.reaches:
            assert abs(moved) >= abs(by) - 1e-6
    again = search(now, wanted, setting)
    assert [(each.moves, each.cost) for each in again] == [(e.moves, e.cost) for e in found]


@st.composite
def jar_tiles(draw):
    """Tiles of a low-fire jar with one defect; anything but the jar may be left out."""

    def maybe(strategy):
        return draw(st.one_of(st.none(), strategy))

    firing = {
        "name": "F",
        "target_cone": maybe(st.sampled_from(["07", "05", "04", "03", "5"])),
        "hold_min": maybe(st.sampled_from([0, 10, 60])),
        "rate_c_per_h": maybe(st.sampled_from([50, 150])),
        "opened_c": maybe(st.sampled_from([60, 250])),
    }
    jar = {"name": "pond green", "kind": "jar", "role": "glaze", "finish": "gloss"}
    layer = {
        "glaze": jar | {"cone_low": "06", "cone_high": "04"},
        "coats": maybe(st.integers(1, 6)),
        "thickness_mm": maybe(st.sampled_from([0.2, 0.6, 1.6])),
        "method": maybe(st.sampled_from(["brush", "dip"])),
    }
    defects = ["crazing", "crawling", "pinholes", "running", "shivering", "underfired", "blisters"]
    values = {
        "mark": "M-1",
        "body": {"name": "red", "cone_low": "06", "cone_high": "02"},
        "bisque_cone": maybe(st.sampled_from(["08", "06", "04", "02"])),
        "firing": draw(st.one_of(st.none(), st.just(firing))),
        "cone_reached": maybe(st.sampled_from(["09", "07", "05", "03", "5"])),
        "areas": [{"number": 1, "layers": [layer]}],
        "inspections": [
            {"inspected_on": "2026-05-01", "defects": [{"defect": draw(st.sampled_from(defects))}]}
        ],
    }
    return forms.read(forms.TileRecord, values)


BODIES = [forms.BodyRecord(name="white", cone_low="06", cone_high="03")]


@settings(max_examples=60, deadline=None)
@given(jar_tiles())
def test_a_jar_keeps_its_recipe_its_label_and_one_change_a_tile(record):
    before = record.model_dump()
    for answer in fix(record, bodies=BODIES):
        for each in (each for cause in answer.causes for each in cause.fixes):
            assert not each.is_recipe
            assert each.trials
            for change in each.changes:
                if change.what == "cone reached":
                    assert in_range(change.after, "06", "04")
        if answer.trials:
            # Of a tile fired too hot the one fired cooler stands for the control.
            assert any(t.is_control or t.change.startswith("cone reached ") for t in answer.trials)
        names = [trial.name for trial in answer.trials]
        assert len(set(names)) == len(names)
        assert answer.first is None or answer.first.trial in names
        for trial in answer.trials:
            assert trial.recipe is None
            assert forms.read(forms.TileRecord, trial.tile | {"mark": "T-1"}).inspections == []
    assert record.model_dump() == before
    assert fix(record, bodies=BODIES) == fix(record, bodies=BODIES)
