"""Whatever is typed, reading it ends in a name of the scale or in one clear error."""

from hypothesis import example, given
from hypothesis import strategies as st

from tiles.chemistry import cones, hazards, materials, oxides
from tiles.cli.recipe_show import split_version
from tiles.errors import TilesError, UnknownCone
from tiles.records.mark_looks import natural_key

SCALE = set(cones.cones_between("022", "14"))


@given(st.one_of(st.text(max_size=12), st.from_regex(r"[c^∆ ]{0,3}0?\d{1,2}[½. /12]{0,4}")))
@example("1²")
@example("٥")
@example("5\n")
def test_any_text_is_a_cone_of_the_scale_or_an_error(text):
    try:
        found = cones.read_cone(text)
    except UnknownCone as error:
        assert error.hint
    else:
        assert found in SCALE
        assert cones.read_cone(found) == found


@given(st.text(max_size=40))
def test_any_text_can_be_screened(text):
    hazards.screen_text(text)


@given(st.text(max_size=12))
def test_any_text_is_a_known_material_and_oxide_or_an_error(text):
    for read in (materials.find, oxides.read_oxide, oxides.molar_mass):
        try:
            assert read(text)
        except TilesError as error:
            assert error.hint


@given(st.lists(st.text(max_size=12)))
@example(["A1²", "A1", "A¹1", "A-٣"])
def test_any_marks_can_be_sorted(marks):
    assert sorted(sorted(marks, key=natural_key)) == sorted(marks)


@given(st.text(max_size=12))
@example("house clear@²")
def test_any_text_may_name_a_version_of_a_recipe(text):
    name, version = split_version(text)
    assert version is not None or name == text
