"""Analyses of the user's own go before the shipped ones wherever a recipe is worked out."""

import json
from collections import defaultdict

import pytest

SODA_FRIT = ["--oxide", "SiO2=50", "--oxide", "Al2O3=10", "--oxide", "B2O3=10", "--oxide",
             "Na2O=20", "--oxide", "CaO=10"]  # fmt: skip
SHIPPED, OWN = "calcium borate frit", "frit from the blue tub"


@pytest.fixture
def studio(tiles, fresh):
    """One crazed tile each with a glaze of a shipped frit and of one that nobody knows yet."""
    tiles("body", "add", "buff", "--expansion-ppm-per-k", "5.5", "--cones", "06-04")
    for mark, frit in (("A-1", SHIPPED), ("A-2", OWN)):
        parts = [f"{frit}=60", "kaolin=15", "silica=25"]
        lines = [part for each in parts for part in ("--line", each)]
        assert tiles("recipe", "add", f"clear of {frit}", *lines, "--yes").code == 0
        glaze = f"clear of {frit}=3"
        tiles("log", "--mark", mark, "--body", "buff", "--glaze", glaze, "--cone-reached", "05")
        tiles("inspect", mark, "--defect", "crazing")
    return fresh


def margin(tiles, frit):
    """What ``recipe show`` says of the fit on the body. [1e-6/K], None where it cannot tell."""
    told = json.loads(tiles("recipe", "show", f"clear of {frit}", "--json").out)
    return told["bodies"]["buff"]["margin_ppm_per_k"] if told["bodies"] else None


def gap(tiles, mark):
    """What ``why`` counts with; above 0 where the margin is below."""
    told = json.loads(tiles("why", mark, "--arithmetic", "--json").out)["diagnoses"][0]
    signs = [sign for row in told["arithmetic"]["causes"] for sign in row["signs"]]
    known = {sign["value"] for sign in signs if sign["measure"] == "expansion_gap_ppm_per_k"}
    assert len(known) <= 1
    return known.pop() if known else None


@pytest.mark.parametrize(("mark", "frit"), [("A-1", SHIPPED), ("A-2", OWN)])
def test_why_counts_with_the_fit_that_recipe_show_tells(studio, tiles, mark, frit):
    before = margin(tiles, frit)
    assert (before is None) == (frit == OWN)
    assert gap(tiles, mark) == (None if before is None else pytest.approx(-before, abs=0.06))
    assert tiles("material", "add", frit, *SODA_FRIT).code == 0
    after = margin(tiles, frit)
    assert after < -2 and after != before
    assert gap(tiles, mark) == pytest.approx(-after, abs=0.06)


def test_forecast_and_next_work_with_own_analyses_too(studio, tiles):
    from diagnose.measures.of_area import measures
    from tiles.cli import forecast_planned, next_stock

    tiles("material", "add", OWN, *SODA_FRIT)
    given = defaultdict(lambda: None, body="buff", glaze=[f"clear of {OWN}"])
    record = forecast_planned.planned(given, None)
    assert measures(record)["expansion_gap_ppm_per_k"].value > 2
    recipe = next_stock.owned(None).recipes[f"clear of {OWN}"]
    assert [each.name for each in recipe.own] == [OWN]


def test_a_new_analysis_makes_forecasts_learn_anew(studio, tiles):
    from tiles.cli import learned

    def kept():
        assert tiles("forecast", "A-1").code == 0
        return json.loads(learned.kept_in(None).read_text())["data"]

    before = kept()
    assert kept() == before
    tiles("material", "add", SHIPPED, *SODA_FRIT)
    assert kept() != before


def test_a_caution_for_what_an_own_analysis_holds_is_told(studio, tiles):
    told = tiles("why", "A-2", "--all").out
    assert "barium (" not in told
    tiles("material", "add", OWN, "--oxide", "SiO2=50", "--oxide", "BaO=50")
    assert "barium (" in " ".join(tiles("why", "A-2", "--all").out.split())


def test_two_clays_with_an_analysis_of_each_are_weighed_apart(studio, tiles):
    for clay in ("kaolin", "china clay"):
        tiles("material", "add", clay, "--oxide", "SiO2=47", "--oxide", "Al2O3=39", "--loi", "14")
    lines = ["--line", "kaolin=20", "--line", "china clay=20", "--line", "whiting=60"]
    tiles("recipe", "add", "two clays", *lines)
    shown = json.loads(tiles("recipe", "show", "two clays", "--batch-g", "500", "--json").out)
    wanted = {"kaolin": 100, "china clay": 100, "whiting": 300}
    assert shown["batch"] == pytest.approx(wanted)
    blend = ("blend", "line", "two clays", f"clear of {SHIPPED}", "--steps", "2", "--json")
    assert tiles(*blend).code == 0


def test_fix_changes_an_own_raw_clay_for_its_own_calcined_form(tiles, fresh):
    """Loss 12.0 raw and 0.2 calcined: 1 raw leaves .880 / .998 = 0.882 (by hand)."""
    raw = ("SiO2=47.6", "Al2O3=38.7", "K2O=1.3", "Fe2O3=0.4")
    burnt = ("SiO2=54.0", "Al2O3=43.9", "K2O=1.5", "Fe2O3=0.4")
    for name, oxides, loss in (("lake clay", raw, "12.0"), ("burnt lake", burnt, "0.2")):
        given = [part for each in oxides for part in ("--oxide", each)]
        assert tiles("material", "add", name, *given, "--loi", loss).code == 0
    lines = ("soda feldspar=38", "whiting=16", "lake clay=28", "silica=18")
    mix = [part for each in lines for part in ("--line", each)]
    assert tiles("recipe", "add", "white", *mix, "--cones", "5-6").code == 0
    log = ("log", "--mark", "W-1", "--body", "buff", "--glaze", "white", "--cone-reached", "6")
    dry = ("--defect", "crawling", "--clue", "raw_coat_cracked=yes", "--add-missing", "--yes")
    ran = tiles(*log, *dry)
    assert ran.code == 0, ran.err
    told = " ".join(tiles("fix", "W-1", "--all").out.split())
    assert "13.5 lake clay out, 11.907 burnt lake in (parts per 100 of the base)" in told
    assert "its Seger formula stays as it was." in told
