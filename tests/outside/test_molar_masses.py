"""Molar masses and mineral analyses against an independent library and table.

Sources: the open library ``periodictable`` (IUPAC atomic weights), and data/minerals_computed.csv,
a table of ideal minerals computed with periodictable 2.1.0 on 2026-11-25 (mass and loss to 0.01).
"""

import csv
from pathlib import Path

import periodictable
import pytest

from tiles.chemistry import materials, oxides

MINERALS = list(
    csv.DictReader(
        (Path(__file__).parent / "data/minerals_computed.csv")
        .read_text(encoding="utf-8")
        .splitlines()
    )
)

SAME = {
    "quartz (silica, flint)": "silica",
    "kaolinite": "kaolin",
    "metakaolin (calcined kaolin)": "calcined kaolin",
    "microcline/orthoclase": "potash feldspar (ideal)",
    "albite": "soda feldspar (ideal)",
    "anorthite": "lime feldspar (ideal)",
    "spodumene": "spodumene (ideal)",
    "petalite": "petalite (ideal)",
    "calcite (whiting, limestone)": "whiting",
    "magnesite": "magnesium carbonate",
    "light magnesium carbonate (hydromagnesite)": "light magnesium carbonate",
    "barium carbonate (witherite)": "barium carbonate",
    "strontium carbonate (strontianite)": "strontium carbonate",
    "tricalcium phosphate": "bone ash (ideal)",
    "fluorspar (fluorite)": "fluorspar",
    "borax decahydrate": "borax",
    "borax anhydrous": "anhydrous borax",
    "sodium carbonate (soda ash)": "soda ash",
    "potassium carbonate (pearl ash)": "pearl ash",
    "aluminium hydroxide (gibbsite)": "alumina hydrate",
    "zinc oxide (zincite)": "zinc oxide",
    "cassiterite (tin oxide)": "tin oxide",
    "zircon (zirconium silicate)": "zirconium silicate",
    "rutile/anatase (ideal TiO2)": "titanium dioxide",
    "hematite (red iron oxide)": "red iron oxide",
    "goethite (yellow iron oxide)": "yellow iron oxide",
    "magnetite": "black iron oxide",
    "copper(II) oxide": "copper oxide",
    "basic copper carbonate (malachite)": "copper carbonate",
    "cobalt(II) carbonate": "cobalt carbonate",
    "cobalt(II,III) oxide": "cobalt oxide",
    "manganese dioxide (pyrolusite)": "manganese dioxide",
    "manganese(II) carbonate": "manganese carbonate",
    "nickel(II) oxide": "nickel oxide",
    "chromium(III) oxide": "chromium oxide",
    "white lead (basic carbonate)": "white lead",
    "lead bisilicate (ideal)": "lead bisilicate",
}
UNDER_OUR_NAME = {row["material"] for row in MINERALS} & {
    *(name for each in materials.shipped() for name in each.names if each.kind == "derived")
}


@pytest.mark.parametrize("oxide", oxides.all_oxides())
def test_oxide_molar_masses_agree_with_periodictable(oxide):
    assert oxides.molar_mass(oxide) == pytest.approx(periodictable.formula(oxide).mass, abs=0.01)


@pytest.mark.parametrize("row", MINERALS, ids=lambda row: row["material"])
def test_mineral_molar_masses_agree_with_the_table(row):
    mass, printed = oxides.molar_mass(row["formula"]), float(row["molar_mass_g_mol"])
    # Some rows print half the formula (one Al or one B instead of two).
    times = round(mass / printed)
    assert times in (1, 2)
    assert mass / times == pytest.approx(printed, abs=0.015)


def test_most_of_the_table_is_among_our_materials():
    assert len(SAME) + len(UNDER_OUR_NAME) >= 50


@pytest.mark.parametrize("name", sorted({*SAME, *UNDER_OUR_NAME}))
def test_ideal_minerals_agree_with_the_table_to_a_hundredth(name):
    row = next(each for each in MINERALS if each["material"] == name)
    ours = materials.find(SAME.get(name, name))
    for column, printed in row.items():
        if column.endswith("_wt%") and column[:-4] in oxides.all_oxides():
            found = ours.analysis.get(column[:-4], 0.0)
            assert found == pytest.approx(float(printed or 0), abs=0.0101), column
    loss = float(row["LOI_wt%"] or 0)
    assert ours.loss_on_ignition_percent == pytest.approx(loss, abs=0.0101)
