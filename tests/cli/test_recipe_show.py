"""``tiles recipe show``: the figures of a recipe, each with its range."""

import json

import pytest

from tiles.cli.recipe_text import labelled, ranged


def shown(tiles, *arguments) -> dict:
    ran = tiles("recipe", "show", *arguments, "--json")
    assert ran.code == 0, ran.err
    return json.loads(ran.out)


def add(tiles, name, *, extras=(), more=(), **lines) -> None:
    options = [
        part
        for item in lines.items()
        for part in ("--line", f"{item[0].replace('_', ' ')}={item[1]}")
    ]
    options += [part for extra in extras for part in ("--extra", extra)]
    ran = tiles("recipe", "add", name, *options, *more, "--yes")
    assert ran.code == 0, ran.err


def test_the_seger_formula_is_that_of_a_printed_worked_example(tiles, fresh):
    # L. Krakowski, internet glaze course part 3 (read): whiting 32, zinc oxide 12, dolomite 15,
    # kaolin 24, flint 17 -> CaO .6362, MgO .1291, ZnO .2347, Al2O3 .1475, SiO2 .7436.
    add(tiles, "printed", whiting=32, zinc_oxide=12, dolomite=15, kaolin=24, flint=17)
    seger = shown(tiles, "printed")["seger"]
    assert seger["fluxes"] == pytest.approx(
        {"MgO": 0.1291, "CaO": 0.6362, "ZnO": 0.2347}, abs=0.001
    )
    assert seger["stabilisers"] == pytest.approx({"Al2O3": 0.1475}, abs=0.001)
    assert seger["glass_formers"] == pytest.approx({"SiO2": 0.7436}, abs=0.001)
    assert seger["others"] == {}


def test_the_formula_is_laid_out_in_three_columns(tiles, sample):
    lines = tiles("recipe", "show", "oat matt").out.splitlines()
    head = next(at for at, line in enumerate(lines) if line.startswith("Seger"))
    assert lines[head].split("  ")[-1].strip() == "glass formers"
    assert [part for part in lines[head + 1].split() if part[0].isalpha()] == [
        "Na2O",
        "Al2O3",
        "SiO2",
    ]
    assert any("outside the fluxes: Fe2O3" in line for line in lines)


def test_every_estimate_comes_with_its_range(tiles, sample):
    found = shown(tiles, "house clear")
    for name in ("expansion", "melt", "surface_tension"):
        assert found[name]["low"] < found[name]["value"] < found[name]["high"], name
    text = tiles("recipe", "show", "house clear").out
    told = found["expansion"]
    assert f"{told['value']:.1f} ({told['low']:.1f} to {told['high']:.1f}) ppm/K" in text


def test_the_margin_is_the_bodys_measured_expansion_less_the_glazes(tiles, sample):
    found = shown(tiles, "house clear")
    beside = found["bodies"]["red earthenware"]
    assert beside["body_ppm_per_k"] == 6.6  # as the sample's bodies.csv has it
    assert beside["margin_ppm_per_k"] == pytest.approx(6.6 - found["expansion"]["value"])
    assert beside["low"] == pytest.approx(6.6 - found["expansion"]["high"])
    assert "white earthenware" not in found["bodies"]  # never measured


def test_only_bodies_for_the_cone_are_on_the_screen_and_all_of_them_in_full(tiles, sample):
    # The sample's bodies.csv: red earthenware is for 06 to 02, buff stoneware for 4 to 7.
    brief, full = (tiles("recipe", "show", "mid clear", *more).out for more in ((), ("--full",)))
    assert "buff stoneware" in brief
    assert "red earthenware" not in brief
    assert "red earthenware" in full
    bodies = shown(tiles, "mid clear")["bodies"]
    assert {name: each["is_for_cone"] for name, each in bodies.items()} == {
        "buff stoneware": True,
        "red earthenware": False,
    }


def test_version_one_that_crazed_is_told_to_craze(tiles, sample):
    # The sample's story: version 1 of house clear crazed on both earthenwares.
    assert shown(tiles, "house clear@1")["bodies"]["red earthenware"]["meaning"] == "crazing"


def test_the_melt_is_told_at_the_cone_asked_for(tiles, sample):
    cool, hot = (shown(tiles, "house clear", "--cone", cone)["melt"] for cone in ("06", "04"))
    # Cone chart, 2016 issue, 60 C/h (read): cone 06 ends at 998 C, 04 at 1063 C.
    assert (cool["temperature_c"], hot["temperature_c"]) == (998, 1063)
    assert cool["value"] > hot["value"]
    assert shown(tiles, "house clear", "--cone", "cone 06")["melt"] == cool


@pytest.mark.parametrize(("label", "cone"), [("06-04", "05"), ("5-6", "6"), ("05", "05")])
def test_without_a_cone_asked_for_the_melt_is_told_at_the_middle_of_the_label(
    tiles, fresh, label, cone
):
    add(tiles, "label", more=("--cones", label), soda_feldspar=50, whiting=20, silica=30)
    assert shown(tiles, "label")["melt"]["cone"] == cone


def test_without_a_cone_on_the_label_the_melt_is_asked_for_not_guessed(tiles, fresh):
    add(tiles, "no label", soda_feldspar=50, whiting=20, silica=30)
    assert shown(tiles, "no label")["melt"] is None
    assert "add --cone 05" in tiles("recipe", "show", "no label").out


def test_a_batch_is_weighed_out_to_the_gram_asked_for(tiles, sample):
    found = shown(tiles, "oat matt", "--batch-g", 2040)["batch"]
    assert sum(found.values()) == pytest.approx(2040)
    assert found["soda feldspar"] == pytest.approx(720)  # 36 of 102 parts
    assert "soda feldspar 720" in tiles("recipe", "show", "oat matt", "--batch-g", 2040).out


def test_a_trace_is_never_weighed_out_as_nothing(tiles, fresh):
    add(tiles, "blue", extras=["cobalt oxide=0.25"], soda_feldspar=70, whiting=30)
    shows = {}
    for grams in (100, 2000, 1000000):
        shows[grams] = " ".join(tiles("recipe", "show", "blue", "--batch-g", grams).out.split())
    # By hand: 0.25 parts in 100.25.
    assert "cobalt oxide 0.249 g" in shows[100]
    assert "cobalt oxide 4.99 g" in shows[2000]
    assert "1000000 g dry" in shows[1000000]
    few = " ".join(tiles("recipe", "show", "blue", "--batch-g", 10).out.split())
    assert "0.0249 g" in few
    assert "--batch-g 300," in few


def test_what_is_not_understood_is_a_share_and_never_zero(tiles, fresh):
    add(tiles, "half", soda_feldspar=30, whiting=20, shed_glass=50)
    found = shown(tiles, "half", "--cone", "05")
    assert found["not_understood_pct"] == 50
    assert list(found["suggestions"]) == ["shed glass"]
    assert (
        "WARNING      50 % of the recipe is not understood" in tiles("recipe", "show", "half").out
    )


def test_a_recipe_nobody_understands_gets_no_figures(tiles, fresh):
    add(tiles, "riddle", shed_glass=50)
    found = shown(tiles, "riddle", "--cone", "05")
    assert [found[key] for key in ("seger", "expansion", "melt", "limits")] == [
        None,
        None,
        None,
        [],
    ]
    assert found["cannot_tell"]


def test_no_flux_is_said_and_no_formula_invented(tiles, fresh):
    add(tiles, "sand", silica=50)
    assert "no flux" in tiles("recipe", "show", "sand").out


def test_an_own_analysis_changes_the_figures(tiles, fresh):
    add(tiles, "plain", soda_feldspar=50, whiting=20, silica=30)
    before = shown(tiles, "plain")["seger"]["fluxes"]
    sheet = ["--oxide", "SiO2=60", "--oxide", "Al2O3=20", "--oxide", "K2O=20"]
    assert tiles("material", "add", "soda feldspar", *sheet).code == 0
    after = shown(tiles, "plain")["seger"]["fluxes"]
    assert "Na2O" in before
    assert "Na2O" not in after
    assert after["K2O"] > before["K2O"]


def test_an_oxide_below_the_rounding_is_in_the_json_and_not_on_the_card(tiles, fresh):
    add(tiles, "trace", extras=["red iron oxide=0.1"], soda_feldspar=70, whiting=30)
    assert 0 < shown(tiles, "trace")["seger"]["others"]["Fe2O3"] < 0.005
    assert "Fe2O3" not in tiles("recipe", "show", "trace").out
    add(tiles, "iron", extras=["red iron oxide=5"], soda_feldspar=70, whiting=30)
    assert "(all iron as Fe2O3)" in tiles("recipe", "show", "iron").out


def test_a_small_share_not_understood_is_never_called_none(tiles, fresh):
    tiles("recipe", "add", "odd", "--line", "silica=99.8", "--line", "shed glass=0.2", "--yes")
    assert "below 1 % of the recipe is not understood" in tiles("recipe", "show", "odd").out


def test_a_figure_is_never_minus_nothing():
    figure = {"value": -0.04, "low": -0.0, "high": 0.04}
    assert ranged(figure, 1) == "0.0 (0.0 to 0.0)"


@pytest.mark.parametrize(
    ("extra", "remark"),
    [("cobalt oxide=6", "colourants (CoO)"), ("zirconium silicate=20", "probably opacified")],
)
def test_remarks_on_colour_and_opacity_are_passed_on(tiles, fresh, extra, remark):
    add(tiles, "base", extras=[extra], soda_feldspar=50, whiting=20, silica=30)
    assert remark in " ".join(tiles("recipe", "show", "base").out.split())
    assert any(remark in each for each in shown(tiles, "base")["expansion"]["remarks"])


def test_cautions_and_the_line_on_food_are_always_there(tiles, fresh):
    add(tiles, "toxic", extras=["barium carbonate=10"], soda_feldspar=60, silica=30)
    text = " ".join(tiles("recipe", "show", "toxic").out.split())
    assert "barium (barium carbonate)" in text
    assert "never shows that a glaze is safe for food" in text
    full = " ".join(tiles("recipe", "show", "toxic", "--full").out.split())
    assert "poisonous" in full
    assert any(each["hazard"] == "barium" for each in shown(tiles, "toxic")["cautions"])


def test_published_ranges_are_told_author_by_author_with_memory_marked(tiles, sample):
    text = tiles("recipe", "show", "house clear", "--full").out
    assert "H. McWhinnie (2000), cone 06-04" in text
    assert "D. Rhodes (1973), cone 08-01, alkaline [from memory]" in text
    assert {each["place"] for each in shown(tiles, "house clear")["limits"]} <= {
        "below",
        "within",
        "above",
    }


def test_a_slip_is_not_judged_as_a_melt(tiles, sample):
    text = tiles("recipe", "show", "white slip").out
    assert "need not melt" in text
    assert "ppm/K" not in text


def test_it_fits_one_screen(tiles, sample, monkeypatch):
    monkeypatch.setenv("COLUMNS", "100")
    for name in ("house clear", "mid clear", "oat matt", "iron brown"):
        assert len(tiles("recipe", "show", name).out.splitlines()) <= 32, name


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["house claer"], "house clear"),
        (["house clear@9"], "one of 1, 2"),
        (["house clear", "--version", "9"], "one of 1, 2"),
        (["pond green"], "is a jar"),
        (["house clear", "--cone", "1060"], "looks like a temperature"),
        (["house clear", "--batch-g", "-5"], "cannot be right"),
        (["house clear", "--batch-g", "0"], "--batch-g 0 cannot be right"),
        (["house clear@1", "--version", "2"], "is version 1, --version says 2"),
        (["nothing such"], "tiles recipe add"),
    ],
)
def test_bad_questions_are_one_line(tiles, sample, arguments, told):
    ran = tiles("recipe", "show", *arguments)
    assert ran.code == 1
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1
    assert ran.out == ""


def test_a_cone_too_cool_for_the_surface_tension_still_has_its_melt(tiles, sample):
    found = shown(tiles, "house clear", "--cone", "018")
    assert found["melt"]["cone"] == "018"
    assert found["surface_tension"] is None
    assert "Surface tension" in found["cannot_tell"][0]
    assert "log10 viscosity" in tiles("recipe", "show", "house clear", "--cone", "018").out


def test_a_remark_on_the_surface_tension_says_so(tiles, fresh):
    add(tiles, "tin", extras=["tin oxide=9"], soda_feldspar=50, whiting=20, silica=30)
    text = " ".join(tiles("recipe", "show", "tin", "--cone", "6").out.split())
    assert "But, surface tension:" in text


def test_a_mark_in_a_note_is_never_broken(monkeypatch):
    for columns in range(20, 60):
        monkeypatch.setenv("COLUMNS", str(columns))
        told = labelled("note", "crazed on M-41 and on M-42 after some weeks, not on M-43")
        assert {"M-41", "M-42", "M-43"} <= set(told.replace(",", "").split())
