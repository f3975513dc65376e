import pytest

from tiles.chemistry import hazards, materials
from tiles.chemistry._hazard_words import plain
from tiles.chemistry._tables import DATA, read_table


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
        ("borax", "soluble borate"),
        ("anhydrous borax", "soluble borate"),
        ("boric acid", "soluble borate"),
    ],
)
def test_each_hazard_is_found_in_materials_known_or_not(material, hazard):
    assert hazard in named(hazards.screen_material(material))


@pytest.mark.parametrize(
    "material",
    [
        "whiting",
        "zinc oxide",
        "tin oxide",
        "dolomite",
        "alumina",
        "borax frit",
        "calcium borate frit",
    ],
)
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
    assert named(hazards.screen_material("special base", [own])) == ["barium", "free silica dust"]


OWN_SHEETS = [
    ("our silica 325 mesh", {"SiO2": 99.8}, 0.1, "free silica dust"),
    ("Quartz powder", {"SiO2": 99.8}, 0.1, "free silica dust"),
    ("our ball clay", {"SiO2": 54, "Al2O3": 32}, 13.0, "free silica dust"),
    ("china clay", {"SiO2": 47, "Al2O3": 37, "K2O": 2}, 13.0, "free silica dust"),
    ("bag 7", {"SiO2": 98.5}, 1.0, "free silica dust"),
    ("frit mix, raw", {"SiO2": 60, "CaO": 25}, 15.0, "free silica dust"),
    ("our talc", {"SiO2": 62, "MgO": 32}, 5.0, "talc dust"),
    ("cheap wollastonite", {"SiO2": 57, "CaO": 42}, 1.0, "free silica dust"),
    # What a sheet leaves out, the name or the shipped material of that name still tells.
    ("spodumene", {"SiO2": 70, "Al2O3": 28}, 1.0, "lithium"),
    ("pyrolusite", {"Fe2O3": 98}, 1.0, "manganese"),
    ("BaCO3 technical", {"CaO": 78}, 22.0, "barium"),
]


@pytest.mark.parametrize("name,analysis,loss,hazard", OWN_SHEETS)
def test_entering_ones_own_data_sheet_takes_no_caution_away(name, analysis, loss, hazard):
    own = materials.from_analysis(name, analysis, loss_on_ignition_percent=loss)
    assert hazard in named(hazards.screen_material(name, [own]))


@pytest.mark.parametrize(
    "name,analysis,loss",
    [
        ("our wollastonite", {"SiO2": 51, "CaO": 46.5, "MgO": 0.6}, 0.9),
        ("our frit 12", {"SiO2": 50, "Na2O": 50}, 0.0),
        ("chalk", {"CaO": 56}, 43.9),
    ],
)
def test_bound_or_melted_silica_calls_for_no_dust_caution(name, analysis, loss):
    own = materials.from_analysis(name, analysis, loss_on_ignition_percent=loss)
    assert hazards.screen_material(name, [own]) == []


def test_a_caution_stays_when_own_materials_take_over_the_names_in_a_recipe():
    flint = materials.from_analysis("flint", {"SiO2": 100}, aliases=["silica", "quartz"])
    plain = materials.from_analysis(
        "extender", {"CaO": 60}, loss_on_ignition_percent=40, aliases=["talc"]
    )
    recipe = {"whiting": 20, "silica": 50, "talc": 30}
    found = {e.hazard: e.found_in for e in hazards.screen_recipe(recipe, own=[flint, plain])}
    assert found == {"free silica dust": ("silica", "talc"), "talc dust": ("talc",)}


def test_every_shipped_raw_material_with_silica_warns_of_dust():
    # Common practice, no source: only a frit and silicates of lime and magnesia are let off.
    let_off = {"wollastonite", "diopside"}
    for each in materials.shipped():
        if each.analysis.get("SiO2") and "frit" not in each.name and each.name not in let_off:
            assert "free silica dust" in named(hazards.screen_material(each.name)), each.name


@pytest.mark.parametrize(
    "name,hazard",
    [
        ("potassium bichromate", "chromium"),
        ("ferrochrome", "chromium"),
        ("iron chromite", "chromium"),
        ("baria frit", "barium"),
        ("barytes", "barium"),
        ("flourspar", "fluorine"),
        ("colbalt oxide", "cobalt"),
        ("nickle oxide", "nickel"),
        ("felspar", "free silica dust"),
        ("silca flour", "free silica dust"),
        ("uranium oxide", "uranium"),
        ("selenium red", "selenium"),
        ("white arsenic", "arsenic"),
    ],
)
def test_rare_and_misspelt_names_are_screened_too(name, hazard):
    assert hazard in named(hazards.screen_material(name))


@pytest.mark.parametrize(
    "name",
    [
        "magnesium oxide",
        "aluminium hydrate",
        "cerise stain",
        "barium-free frit",
        "calcium phosphate",
        "bismuth",
        "titanium white",
        "US 42",
        "shed frit",
    ],
)
def test_a_name_a_few_letters_away_from_a_hazard_is_left_alone(name):
    assert hazards.screen_material(name) == []


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


# General vocabulary of the languages, common knowledge, no source.
IN_OTHER_LANGUAGES = {
    "lead": "enthält Blei; bleihaltig; Bleifritte; Mennige; Bleichromat; contient du plomb; "
    "plombifère; oxyde de plomb; bleierne; Kremser Weiß; "
    "Neapel Gelb; jaune Naples; bevat lood; loodhoudend; contiene plomo; contiene piombo; "
    "contém chumbo; indeholder bly; blyglasyr; mønje; lyijyä; zawiera ołów; "
    "obsahuje olovo; Pb₃O₄; Pb(II)",
    "cadmium": "Kadmiumgelb; rouge de cadmium; cadmio; kadmu; kademnatý",
    "barium": "Bariumcarbonat; Bariumkarbonat; baryum; bario; węglan baru; uhličitan barnatý",
    "manganese": "Braunstein; Mangandioxid; dioxyde de manganèse; mangaan; manganês; burel",
    "chromium": "Chromoxid; Kaliumdichromat; oxyde de chrome; cromo; kromioksidi; krome; "
    "Cr(VI); Cr/Ti",
    "nickel": "Nickeloxid; nikkel; nikkelen; níquel; nichel; tlenek niklu",
    "cobalt": "Kobaltton; oxyde de cobalt; koboltti; cobalto",
    "copper": "Kupferkarbonat; carbonate de cuivre; rame; cobre; kopparoxid; miedź; měďnatý",
    "vanadium": "Vanadiumpentoxid; wanad; vanadio",
    "antimony": "Antimonoxid; antimoine; antymon",
    "selenium": "Selenrot; selenio; seleeni",
    "lithium": "Lithiumkarbonat; carbonato de litio; litu",
    "arsenic": "Arsenik; arsenico; As₂O₃",
    "soluble borate": "Borsäure; acide borique; boorzuur; kwas borowy",
}


@pytest.mark.parametrize(
    ("hazard", "text"),
    [(key, text) for key, texts in IN_OTHER_LANGUAGES.items() for text in texts.split("; ")],
)
def test_a_label_is_read_in_other_languages_of_europe(hazard, text):
    assert hazard in named(hazards.screen_text(text))
    assert hazard in named(hazards.screen_material(text))


DENIED = """bleifrei, blei- und cadmiumfrei, Frei von Blei und Cadmium, enthält kein Blei, ohne Blei
nicht bleihaltig, sans plomb, sans plomb ni cadmium, ne contient pas de plomb, exempt de plomb
loodvrij, lood- en cadmiumvrij, bevat geen lood, sin plomo, no contiene plomo, libre de plomo
senza piombo, senza piombo e cadmio, non contiene piombo, sem chumbo, não contém chumbo
blyfri, blyfritt, uden bly, utan bly, lyijytön, ei sisällä lyijyä, bez ołowiu, nie zawiera ołowiu
bez obsahu olova, neobsahuje olovo, keine bleihaltigen Stoffe, non tossico senza piombo""".replace(
    "\n", ", "
).split(", ")


@pytest.mark.parametrize(
    "text",
    [*DENIED, "frei von Blei, Cadmium und Barium", "contains no lead, cadmium or barium",
     "no lead no manganese", "kein Blei kein Mangan", "no-lead", "non-lead glaze",
     "lead\N{NON-BREAKING HYPHEN}free", "lead\N{HYPHEN}free", "lead\N{EN DASH}free",
     "blei\N{NON-BREAKING HYPHEN} und cadmiumfrei", "lead oxide free", "manganese dioxide-free",
     "lead, cadmium and barium free", "Gloss. Lead, cadmium, and barium-free", "Pb-free", "no Pb",
     "Pb/Cd free", "no lead oxide, cadmium or barium carbonate"],
)  # fmt: skip
def test_what_a_label_denies_in_its_language_is_no_caution(text):
    assert hazards.screen_text(text) == [] == hazards.screen_material(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("nicht bleifrei", ["lead"]), ("pas sans plomb", ["lead"]), ("niet loodvrij", ["lead"]),
        ("ikke blyfri", ["lead"]), ("bleiarm", ["lead"]), ("loodfrit", ["lead"]),
        ("Blei und bariumfrei", ["lead"]), ("no lead, cadmium and barium", ["cadmium", "barium"]),
        ("without lead, barium carbonate 5", ["barium"]),
        ("ohne Blei, enthält Barium und Mangan", ["barium", "manganese"]),
        ("red lead free of barium", ["lead"]), ("lead - free delivery", ["lead"]),
        ("lead \N{EN DASH} free delivery", ["lead"]), ("lead bisilicate free", ["lead"]),
        ("contains lead, cadmium and barium free", ["lead"]),
        ("lead, cadmium and barium free of charge", ["lead", "cadmium", "barium"]),
        ("lead glaze, cadmium and barium free", ["lead"]),
        ("Ba, Sb", ["barium", "antimony"]), ("Co 1 %", ["cobalt"]),
    ],
)  # fmt: skip
def test_what_is_not_plainly_denied_warns(text, expected):
    assert named(hazards.screen_text(text)) == expected


@pytest.mark.parametrize(
    "text",
    "assembly;Bleistiftgrau;bleibt matt;bleicht aus;loodrecht;loods 3;blyg;aplomb;Barcelona;"
    "med glasyr;Magnesiumcarbonat;carbonate de magnésium;magnésie;kromatisk;SB12;NS06;FN008;GHS02;"
    "spülmaschinenfest;monja;Co, Ltd;S/F;Blythe;Bleicherode;Bleiburg;Bleier;Bleibinhaus;"
    "Blyde river;Nickelsdorf;Nickelsen;Kromka;krompir;kromě;Vanadzor;Arsenije".split(";"),
)
def test_other_words_and_codes_of_jars_are_no_hazard(text):
    assert hazards.screen_text(text) == [] == hazards.screen_material(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("GHS08 H360Df", ["H360", "GHS08"]),
        ("H302+H332, H373", ["H373", "H302", "H332"]),
        ("Achtung: H 350i; EUH201A", ["H350", "EUH201"]),
        ("no H360", []),
        ("H3602", []),
    ],
)
def test_a_hazard_code_of_a_label_says_what_it_stands_for(text, expected):
    # United Nations, Globally Harmonized System, from memory.
    assert named(hazards.screen_text(text)) == expected
    assert hazards.poisons().issuperset(set(expected) - {"H302", "H332"})
    assert not hazards.poisons() & {"H302", "H332"}


def test_a_hazard_code_is_told_in_words():
    (told,) = hazards.screen_text("H360FD")
    assert "may damage fertility or the unborn child" in told.handling
    assert hazards.in_words("H360") == "H360 (may damage fertility or the unborn child)"


def test_every_word_is_of_a_hazard_that_has_a_caution_and_stands_once():
    rows = read_table("hazard_words")
    assert {row["hazard"] for row in rows} == set(hazards.every_hazard())
    for row in rows:
        words = f"{row['words']}; {row['name_words']}".split("; ")
        assert all(word == "" or word.strip("!=*") for word in words), row
        folded = [word for word in words if not word.startswith(("=", "!="))]
        assert folded == [plain(word).casefold() for word in folded], row


def test_the_reminder_defers_to_a_laboratory():
    assert "never shows" in hazards.REMINDER
    assert "accredited laboratory" in hazards.REMINDER


def test_every_source_of_a_caution_is_explained():
    explained = (DATA / "SOURCES.md").read_text(encoding="utf-8")
    found = hazards.screen_text("lead cadmium barium manganese chrome quartz H360")
    for name in ("hazard_words", "material_names"):
        assert all(f"## {row['source']}\n" in explained for row in read_table(name))
    for each in found:
        assert f"## {each.source}\n" in explained
        assert each.status in ("read", "memory")


@pytest.mark.parametrize(
    "text",
    ["not lead free", "this is not lead-free", "no longer lead free", "not without lead",
     "non-lead-free", "not non-lead", "not lead oxide free"],
)  # fmt: skip
def test_a_denial_that_is_denied_still_warns(text):
    assert [each.hazard for each in hazards.screen_text(text)] == ["lead"]


@pytest.mark.parametrize(
    "typed, hazard",
    [("mno2", "manganese"), ("PBO", "lead"), ("baco3", "barium"), ("cuo", "copper"),
     ("massicot", "lead"), ("cristobalite", "free silica dust")],
)  # fmt: skip
def test_formulas_and_trade_names_are_known_as_people_type_them(typed, hazard):
    assert hazard in [each.hazard for each in hazards.screen_material(typed)]
