"""Measures worked out from a recipe, and what names and firings add."""

import subprocess
import sys

import pytest

from diagnose.measures.of_area import measures
from tiles.chemistry.materials import from_analysis
from tiles.chemistry.own_materials import beside_shipped
from tiles.records.derived import analysed
from tiles.records.forms import TileRecord

# 40 ideal potash feldspar, 10 kaolin, 20 whiting, 30 silica. By hand, mol per 100 g: feldspar
# 40/556.66 = 0.0719 K2O and Al2O3, 0.431 SiO2; kaolin 10/258.16 = 0.0387 Al2O3, 0.0775 SiO2;
# whiting 20/100.09 = 0.1998 CaO; silica 30/60.08 = 0.4993. Fluxes 0.2717: K2O 0.26, CaO 0.74,
# Al2O3 0.41, SiO2 3.71, ratio 9.1. Molar masses: IUPAC standard atomic weights.
CLASSIC = [("potash feldspar (ideal)", 40), ("kaolin", 10), ("whiting", 20), ("silica", 30)]
RUNNY = [("calcium borate frit", 70), ("soda feldspar", 15), ("whiting", 15)]


def tile(lines, extras=(), *, glaze=None, body=None, **fields):
    recipe = [{"material": name, "parts": parts} for name, parts in lines]
    recipe += [{"material": n, "parts": p, "is_addition": True} for n, p in extras]
    layer = {"glaze": {"name": "trial", "kind": "recipe"} | (glaze or {})}
    if recipe:
        layer["recipe"] = {"lines": recipe}
    fields.setdefault("areas", [{"number": 1, "layers": [layer]}])
    body = {"name": "clay"} | (body or {})
    return TileRecord.model_validate({"mark": "T-1", "body": body} | fields)


def values(record):
    return {name: each.value for name, each in measures(record).items()}


def test_the_seger_formula_of_a_known_recipe_is_read():
    found = values(tile(CLASSIC))
    assert found["silica_unity"] == pytest.approx(3.71, abs=0.01)
    assert found["alumina_unity"] == pytest.approx(0.41, abs=0.01)
    assert found["alkali_unity"] == pytest.approx(0.26, abs=0.01)
    assert found["lime_unity"] == pytest.approx(0.74, abs=0.01)
    assert found["silica_boron_to_alumina"] == pytest.approx(9.1, abs=0.05)


def test_no_formula_is_made_up_for_an_unknown_base_material():
    found = values(tile([("frit from the blue tub", 70), ("kaolin", 30)]))
    assert not [name for name in found if name.endswith(("_unity", "_pct", "_pa_s"))]


def with_own(record, *own):
    """The record as it is read from a database that has these analyses."""
    made = [from_analysis(name, analysis) for name, analysis in own]
    return analysed(record, beside_shipped(made))


def test_an_own_analysis_goes_before_the_shipped_one_and_counts_as_the_same_material():
    plain, own = tile(RUNNY), with_own(tile(RUNNY), ("Soda Feldspar", {"SiO2": 70, "Na2O": 30}))
    assert values(own)["alkali_unity"] > values(plain)["alkali_unity"]
    assert values(own)["feldspar_pct"] == values(plain)["feldspar_pct"] == 15


SPAR = {"SiO2": 66, "Al2O3": 19, "K2O": 12, "Na2O": 3}


@pytest.mark.parametrize(
    ("name", "analysis", "untold"),
    [
        ("Our spar", SPAR, {"feldspar_pct", "soluble_flux_pct"}),
        ("Blue tub frit", SPAR, set()),
        ("Our talc", {"SiO2": 66, "MgO": 34}, set()),
        ("White M2", {"ZrO2": 64, "SiO2": 36}, {"opacifier_pct"}),
        ("Old red", {"Fe2O3": 95, "SiO2": 5}, {"iron_oxide_pct", "colour_strength"}),
    ],
)
def test_a_share_is_not_told_where_a_material_under_a_name_of_its_own_may_belong_to_it(
    name, analysis, untold
):
    known = values(tile([*CLASSIC, ("copper oxide", 2)]))
    found = values(with_own(tile([*CLASSIC, ("copper oxide", 2), (name, 5)]), (name, analysis)))
    assert known.keys() - found.keys() == untold
    assert "loss_on_ignition_pct" in found and "glaze_expansion_ppm_per_k" in found


def test_an_unknown_stain_keeps_the_formula_but_gives_no_expansion_or_gas_loss():
    found = values(tile(CLASSIC, [("rose stain", 8)], cone_reached="6"))
    assert found["alumina_unity"] == pytest.approx(0.41, abs=0.01)
    assert found["colour_strength"] == pytest.approx(100 * 8 / 108 / 8, abs=0.01)
    assert not {"glaze_expansion_ppm_per_k", "melt_stiffest_log10_pa_s"} & set(found)
    assert "loss_on_ignition_pct" not in found
    assert "opacifier_pct" not in found, "the stain may hold an opacifier"


def test_an_expansion_is_set_against_the_body_only_where_the_body_was_measured():
    alone = values(tile(CLASSIC))
    against = values(tile(CLASSIC, body={"expansion_ppm_per_k": 6.0}))
    assert "expansion_gap_ppm_per_k" not in alone
    assert against["expansion_gap_ppm_per_k"] == pytest.approx(
        alone["glaze_expansion_ppm_per_k"] - 6.0, abs=0.06
    )
    assert "glaze_expansion_ppm_per_k" not in against, "one calculation, one sign"


def test_the_melt_is_worked_out_only_at_a_cone_that_was_reached():
    assert "melt_stiffest_log10_pa_s" not in values(tile(RUNNY))
    found = values(tile(RUNNY, cone_reached="6"))
    assert found["melt_thinnest_log10_pa_s"] < found["melt_stiffest_log10_pa_s"]
    cooler = values(tile(RUNNY, cone_reached="04"))
    assert cooler["melt_stiffest_log10_pa_s"] > found["melt_stiffest_log10_pa_s"]


def test_a_bare_oxide_has_no_formula_and_no_melt():
    found = values(tile([("red iron oxide", 100)], cone_reached="06"))
    assert found["iron_oxide_pct"] == 100
    assert not [name for name in found if name.endswith("_unity")]


def test_chemistry_measures_load_no_array_library():
    code = (
        "import sys\n"
        "from diagnose.measures.of_area import measures\n"
        "from tiles.records.forms import TileRecord\n"
        "line = [{'material': m, 'parts': p} for m, p in "
        "(('soda feldspar', 45), ('whiting', 18), ('kaolin', 12), ('silica', 25))]\n"
        "layer = {'glaze': 'x', 'recipe': {'lines': line}}\n"
        "areas = [{'number': 1, 'layers': [layer]}]\n"
        "record = {'mark': 'T', 'body': 'b', 'cone_reached': '6', 'areas': areas}\n"
        "assert 'melt_stiffest_log10_pa_s' in measures(TileRecord.model_validate(record))\n"
        "print([n for n in ('numpy', 'pandas', 'scipy', 'sklearn') if n in sys.modules])\n"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_a_colour_is_read_from_its_field_before_the_name():
    assert values(tile([], glaze={"name": "fire red"}))["glaze_colour"] == "red"
    named = values(tile([], glaze={"name": "fire red", "colour": "Orange"}))
    assert named["glaze_colour"] == "orange"
    assert "glaze_colour" not in values(tile([], glaze={"name": "morning mist"}))


def test_a_jar_that_does_not_name_cobalt_is_not_said_to_be_without_it():
    assert "holds_cobalt" not in values(tile([], glaze={"name": "dusk", "kind": "jar"}))
    assert values(tile(CLASSIC))["holds_cobalt"] == "no"
    assert values(tile(CLASSIC, [("cobalt carbonate", 1)]))["holds_cobalt"] == "yes"


def test_chromium_with_tin_is_found_over_all_lines():
    found = values(tile(CLASSIC, [("chromium oxide", 0.2), ("tin oxide", 6)]))
    assert found["holds_chrome_tin"] == "yes"
    assert values(tile(CLASSIC, [("chromium oxide", 0.2)]))["holds_chrome_tin"] == "no"


def test_what_the_kiln_was_set_for_is_told_apart_from_what_it_reached():
    glaze = {"name": "jar", "cone_low": "06", "cone_high": "04"}
    found = measures(tile([], glaze=glaze, firing={"name": "F", "target_cone": "5"}))
    assert found["set_over_label"].value == 8  # 04 to 5: 03, 02, 01, 1, 2, 3, 4, 5
    assert found["set_over_label"].said == "set for cone 5, the jar label says cone 06 to 04"
    assert found["firing_band"].value == "mid range"
    assert "cones_over_label" not in found


def test_a_shelf_is_compared_with_the_hottest_other_one():
    witness = [{"shelf": "top", "cone": "05"}, {"shelf": "bottom", "cone": "07"}]
    firing = {"name": "F", "witness_cones": witness}
    assert values(tile([], shelf="bottom", firing=firing))["cones_below_other_shelves"] == 2
    assert values(tile([], shelf="top", firing=firing))["cones_below_other_shelves"] == -2
    assert values(tile([], shelf="Top", firing=firing))["cones_below_other_shelves"] == -2
    assert "cones_below_other_shelves" not in values(tile([], firing=firing))
    alone = {"name": "F", "witness_cones": witness[:1]}
    assert "cones_below_other_shelves" not in values(tile([], shelf="Top", firing=alone))
