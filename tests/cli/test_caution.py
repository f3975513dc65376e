"""One line of caution where a glaze that holds poison is mixed, planned, loaded or handed out."""

import json

import pytest

from diagnose import handling
from tiles.chemistry import hazards
from tiles.cli import caution

BARIUM = "Caution, by recipe or label: barium in butter matt. "
CADMIUM = "Caution, by recipe or label: cadmium in coral red. "
TILE = ("--body", "red earthenware", "--bisque-cone", "04", "--cone-reached", "05")


@pytest.fixture
def poisons(sample, tiles):
    """A recipe with barium, a jar whose remark says cadmium; a clean and a crawled tile of each."""
    for words in (
        ("recipe", "add", "butter matt", "--line", "soda feldspar=75",
         "--line", "barium carbonate=25"),
        ("glaze", "add", "coral red", "--cones", "06-04", "--remark", "cadmium stain"),
        ("log", "--mark", "N-1", *TILE, "--glaze", "coral red=2", "--clean"),
        ("log", "--mark", "N-2", *TILE, "--glaze", "coral red=1", "--defect", "crawling"),
        ("log", "--mark", "N-3", *TILE, "--glaze", "butter matt=2", "--clean"),
    ):  # fmt: skip
        ran = tiles(*words)
        assert ran.code == 0, ran.err


@pytest.mark.parametrize(
    ("told", "words"),
    [
        (BARIUM, ("recipe", "add", "butter matt", "--line", "barium carbonate=25",
                  "--line", "soda feldspar=70")),
        (BARIUM, ("batch", "add", "butter matt", "May")),
        (BARIUM, ("plan", "--body", "red earthenware", "--glaze", "butter matt=2")),
        (BARIUM, ("plan", "--body", "red earthenware", "--glaze", "studio clear=2",
                  "--under", "butter matt=1", "--dry-run", "--json")),
        (BARIUM, ("load", "F77", "N-3", "--yes")),
        (CADMIUM, ("next", "N-2")),
        (CADMIUM, ("next", "N-2", "--plan", "--yes")),
        (CADMIUM, ("next", "N-2", "--commands")),
        (CADMIUM, ("forecast", "N-1")),
        (CADMIUM, ("forecast", "--body", "red earthenware", "--glaze", "coral red=2",
                   "--cone", "05")),
        (CADMIUM, ("find", "--glaze", "coral red", "--clean")),
        (CADMIUM, ("palette", "--glaze", "coral red")),
    ],
    ids=lambda each: " ".join(each[:2]) if isinstance(each, tuple) else "",
)  # fmt: skip
def test_a_poison_is_named_once(poisons, tiles, told, words):
    assert tiles("firing", "add", "F77", "--target-cone", "05").code == 0
    ran = tiles(*words)
    assert ran.code == 0, ran.err
    said = " ".join((ran.out + ran.err).split())
    assert said.count("Caution, by recipe or label") == 1
    assert told + caution.ADVICE in said


def test_a_sheet_names_each_poison_with_its_glazes(poisons, tiles):
    ran = tiles("palette", "--cone", "05")
    said = " ".join(ran.out.split())
    assert "Caution, by recipe or label: cadmium in coral red; barium in butter matt. " in said
    rows = json.loads(tiles("palette", "--json").out)
    held = [row["holds"] for row in rows if not row["stop"]]
    assert held[-3:] == [["barium"], ["cadmium"], ["cadmium"]] and not any(held[:-3])
    assert "N-3 caution: barium" in said and "N-1 caution: cadmium" in said


def test_what_names_no_poison_or_dust_alone_has_no_such_line(poisons, tiles):
    for words in (
        ("plan", "--body", "red earthenware", "--glaze", "house clear=2"),
        ("batch", "add", "pond green", "May"),
        ("palette", "--glaze", "pond green"),
        ("find", "--glaze", "house clear"),
    ):
        ran = tiles(*words)
        assert ran.code == 0, ran.err
        assert "Caution" not in ran.out + ran.err


def test_the_version_on_the_tile_counts_not_the_newest(poisons, tiles):
    new = ("--line", "soda feldspar=75", "--line", "whiting=25")
    ran = tiles("recipe", "add", "butter matt", *new)
    assert ran.code == 0 and "Caution" not in ran.err
    assert "Caution" not in tiles("batch", "add", "butter matt", "May").err
    assert BARIUM in tiles("find", "--glaze", "butter matt").err


@pytest.mark.parametrize(
    ("option", "text", "hazard"),
    [
        ("--food-label", "not for food, contains lead", "lead"),
        ("--colour", "cadmium red", "cadmium"),
    ],
)
def test_a_label_and_a_colour_name_a_poison_wherever_the_jar_is_told_of(
    sample, tiles, option, text, hazard
):
    assert tiles("glaze", "add", "old amber", "--cones", "06-04", option, text).code == 0
    assert f"{hazard}: " in tiles("glaze", "show", "old amber").out
    ran = tiles("log", "--mark", "N-1", *TILE, "--glaze", "old amber=2", "--defect", "crazing")
    assert ran.code == 0, ran.err
    for words in (("plan", "--body", "red earthenware", "--glaze", "old amber=2"), ("next", "N-1")):
        assert f"Caution, by recipe or label: {hazard} in old amber." in tiles(*words).err
    for words in (("why", "N-1", "--all"), ("fix", "N-1")):
        assert f"{hazard} (old amber, {text}): " in " ".join(tiles(*words).out.split())


def test_what_is_added_to_a_recipe_is_named_with_its_base(fresh, tiles):
    lines = ("--line", "soda feldspar=60", "--line", "kaolin=40")
    ran = tiles("recipe", "add", "speckle", *lines, "--extra", "manganese dioxide=3")
    assert ran.code == 0 and "Caution, by recipe or label: manganese in speckle. " in ran.err
    assert "manganese: " in tiles("glaze", "show", "speckle").out


def test_an_own_material_is_known_by_its_analysis(fresh, tiles):
    ran = tiles("material", "add", "special base", "--oxide", "BaO=70", "--oxide", "SiO2=30")
    assert ran.code == 0, ran.err
    ran = tiles("recipe", "add", "plain", "--line", "special base=60", "--line", "kaolin=40")
    assert "barium in plain." in ran.err
    assert "barium: " in tiles("glaze", "show", "plain").out


@pytest.mark.parametrize(
    "label", [("--colour", "cadmium red"), ("--food-label", "not for food, contains cadmium")]
)
def test_a_poison_that_the_colour_or_the_food_label_alone_names_is_told(fresh, tiles, label):
    assert tiles("glaze", "add", "coral red", "--cones", "06-04", *label).code == 0
    assert CADMIUM in tiles("batch", "add", "coral red", "May").err


def test_what_is_not_understood_of_a_jar_is_told_when_it_is_put_on_record(fresh, tiles):
    label, told = "свинец", '"свинец" is not understood and may name a poison: read it yourself.'
    ran = tiles("glaze", "add", "old amber", "--cones", "06-04", "--food-label", label)
    assert ran.code == 0 and f"Caution: {told}" in " ".join(ran.out.split())
    assert told in json.loads(tiles("glaze", "show", "OLD amber", "--json").out)["cautions"]
    assert tiles("body", "add", "red").code == 0
    said = f'Not understood: "{label}" of old amber. It may name a poison: read it yourself.'
    assert said in tiles("plan", "--body", "red", "--glaze", "old amber=2", "--dry-run").err
    assert tiles("glaze", "change", "old amber", "--food-label", "lebensmittelecht").code == 0
    assert "Caution" not in tiles("glaze", "show", "old amber").out


def test_many_glazes_of_one_poison_make_no_wall():
    said = caution.line({"copper": [f"green {number}" for number in range(9)]})
    assert "green 3 and 5 more. " in said[0]
    assert caution.line({}) == []


def test_dust_is_known_under_the_names_that_are_left_out():
    assert set(hazards.DUSTS) < set(hazards.every_hazard())
    assert {each.hazard for each in handling.of_materials(["talc"])} == set(hazards.DUSTS)


def test_a_poison_that_nobody_has_an_analysis_of_is_named_before_it_is_kept(fresh, tiles):
    ran = tiles("recipe", "add", "sunset", "--line", "whiting=30", "--line", "cadmium sulphide=3")
    assert ran.code == 1 and ran.err.count("\n") == 1
    assert "Caution: cadmium (cadmium sulphide): Poisonous as dust and fume" in ran.err
    assert "magnesium" not in ran.err
    ran = tiles("recipe", "add", "sunset", "--line", "whiting=30", "--line", "secret powder=3")
    assert ran.code == 1 and "Caution" not in ran.err


def test_a_crazed_piece_of_a_food_safe_jar_is_said_to_be_kept_from_food_at_once(sample, tiles):
    for name, label in (("tea white", "food safe"), ("wall blue", "not for food")):
        said = ("--cones", "06-04", "--food-label", label)
        assert tiles("glaze", "add", name, *said).code == 0
    kept = "Crazed: keep N-1 from food, whatever the label of tea white says."
    ran = tiles("log", "--mark", "N-1", *TILE, "--glaze", "tea white=2", "--defect", "crazing")
    assert kept in ran.err
    ran = tiles("log", "--mark", "N-2", *TILE, "--glaze", "wall blue=2", "--defect", "crazing")
    assert "from food" not in ran.err
    ran = tiles("log", "--mark", "N-3", *TILE, "--glaze", "tea white=2", "--defect", "specks")
    assert "from food" not in ran.err
    ran = tiles("inspect", "N-1", "N-3", "--defect", "crazing", "--defect", "underfired")
    assert "Crazed or underfired: keep N-1, N-3 from food, whatever the label of" in ran.err
