import pytest

from tiles.chemistry import hazards, materials
from tiles.chemistry._tables import DATA


def named(found):
    return [each.hazard for each in found]


@pytest.mark.parametrize(
    "material,hazard",
    [
        ("white lead", "lead"),
        ("lead bisilicate", "lead"),
        ("barium carbonate", "barium"),
        ("manganese dioxide", "manganese"),
        ("chrome oxide", "chromium"),
        ("vanadium pentoxide", "vanadium"),
        ("nickel oxide", "nickel"),
        ("spodumene", "lithium"),
        ("copper carbonate", "copper"),
        ("cryolite", "fluorine"),
        ("flint", "free silica dust"),
        ("cadmium red stain", "cadmium"),
        ("our barium frit", "barium"),
        ("MnCO3", "manganese"),
        ("local clay", "free silica dust"),
    ],
)
def test_each_hazard_is_found_in_materials_known_or_not(material, hazard):
    assert hazard in named(hazards.screen_material(material))


@pytest.mark.parametrize("material", ["whiting", "zinc oxide", "tin oxide", "dolomite", "alumina"])
def test_plain_materials_call_for_no_special_caution(material):
    assert hazards.screen_material(material) == []


def test_every_shipped_material_with_a_hazardous_oxide_is_found():
    for each in materials.shipped():
        found = named(hazards.screen_material(each.name))
        for oxide, hazard in (("PbO", "lead"), ("BaO", "barium"), ("Li2O", "lithium")):
            if each.analysis.get(oxide):
                assert hazard in found, each.name


def test_a_users_own_analysis_is_screened_by_its_oxides():
    own = materials.from_analysis("special base", {"SiO2": 60, "BaO": 40})
    assert named(hazards.screen_material("special base", [own])) == ["barium"]


def test_a_recipe_lists_each_hazard_once_with_every_line_it_is_in():
    found = hazards.screen_recipe(
        {"flint": 30, "kaolin": 20, "whiting": 50},
        extras={"copper oxide": 2, "copper carbonate (light)": 1},
    )
    places = {each.hazard: each.found_in for each in found}
    assert places["copper"] == ("copper oxide", "copper carbonate (light)")
    assert places["free silica dust"] == ("flint", "kaolin")
    assert all(each.handling for each in found)


@pytest.mark.parametrize(
    "text,expected",
    [
        ("Chrome green, brush on", ["chromium"]),
        ("COBALT BLUE with copper", ["copper", "cobalt"]),
        ("contains BaCO3", ["barium"]),
        ("dry powder, contains quartz", ["free silica dust"]),
        ("may contain Pb", ["lead"]),
        ("fluorspar crystal", ["fluorine"]),
        ("no lead but barium", ["barium"]),
    ],
)
def test_jar_text_is_read(text, expected):
    assert named(hazards.screen_text(text)) == expected


@pytest.mark.parametrize(
    "text",
    [
        "",
        "Leading edge clear",
        "lead-free gloss",
        "Lead free",
        "lead and cadmium free",
        "contains no lead",
        "does not contain lead",
        "brilliant SNOW white",
        "for low-fire clay bodies, let dry",
    ],
)
def test_words_that_only_look_like_a_hazard_or_deny_it_are_left_alone(text):
    assert hazards.screen_text(text) == []


def test_oxides_count_only_above_zero():
    assert named(hazards.screen_oxides({"CuO": 2, "NiO": 0, "SiO2": 60, "Fe2O3": 5})) == ["copper"]


def test_the_reminder_defers_to_a_laboratory():
    assert "never shows" in hazards.REMINDER
    assert "accredited laboratory" in hazards.REMINDER


def test_every_source_of_a_caution_is_explained():
    explained = (DATA / "SOURCES.md").read_text(encoding="utf-8")
    found = hazards.screen_text("lead cadmium barium manganese chrome quartz")
    for each in found:
        assert f"## {each.source}\n" in explained
        assert each.status in ("read", "memory")
