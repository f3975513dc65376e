import pytest

from tiles.chemistry.recipes import read_recipe, weigh_out
from tiles.errors import InvalidValue, UnknownName


def test_parts_are_kept_as_given():
    lines = read_recipe({"whiting": 12.5, "kaolin": 3}, extras={"tin oxide": 4})
    assert [(each.title, each.parts, each.is_extra) for each in lines] == [
        ("whiting", 12.5, False),
        ("kaolin", 3.0, False),
        ("tin oxide", 4.0, True),
    ]


@pytest.mark.parametrize("parts", [-1, 0, None, "", "30", True, float("nan"), float("inf")])
def test_parts_that_cannot_be_right_are_refused(parts):
    with pytest.raises(InvalidValue, match="whiting"):
        read_recipe({"whiting": parts})


def test_an_empty_recipe_is_refused():
    with pytest.raises(InvalidValue, match="no line"):
        read_recipe({})


@pytest.mark.parametrize("name", ["", "  ", None])
def test_a_line_without_a_material_is_refused(name):
    with pytest.raises(InvalidValue, match="names no material"):
        read_recipe([(name, 10)])


def test_the_same_material_under_two_names_is_refused():
    with pytest.raises(InvalidValue, match="flint and silica are the same material"):
        read_recipe({"flint": 20, "silica": 10})


def test_the_same_material_as_base_and_addition_is_refused():
    with pytest.raises(InvalidValue, match="one line of 6 parts"):
        read_recipe({"bentonite": 2, "silica": 20}, extras={"Bentonite": 4})


@pytest.mark.parametrize(
    ("base", "extras", "told"),
    [
        (
            {"tin oxide": 4, "silica": 20},
            {"Tin Oxide": 2},
            "tin oxide is both in the base (4 parts) and among the additions (2 parts). "
            "Try: one line of 6 parts, in the base or as an addition, or name one of them as a "
            "material of its own.",
        ),
        (
            {"flint": 20},
            {"silica": 5},
            "flint in the base (20 parts) and silica among the additions (5 parts) are the same "
            "material (silica). Try: one line of 25 parts, in the base or as an addition, or name "
            "one of them as a material of its own.",
        ),
    ],
)
def test_a_material_of_the_base_added_again_is_told_by_both_lines(base, extras, told):
    with pytest.raises(InvalidValue) as caught:
        read_recipe(base, extras=extras)
    assert str(caught.value) == told


@pytest.mark.parametrize("parts", ["30", True, float("nan"), float("inf")])
def test_parts_that_are_no_number_are_called_so(parts):
    with pytest.raises(InvalidValue, match="whiting: the amount is not a number"):
        read_recipe({"whiting": parts})


def test_no_parts_are_never_called_minus_nothing():
    with pytest.raises(InvalidValue, match="whiting: 0 parts"):
        read_recipe({"whiting": -0.0})


def test_a_line_listed_twice_is_refused_known_or_not():
    with pytest.raises(InvalidValue, match="listed twice"):
        read_recipe([("secret", 5), ("Secret", 6)])


def test_an_unknown_material_is_carried_unless_told_to_be_strict():
    assert read_recipe({"whitting": 10})[0].material is None
    with pytest.raises(UnknownName, match="whiting"):
        read_recipe({"whitting": 10}, strict=True)


def test_a_batch_weighs_what_was_asked_with_its_additions():
    batch = weigh_out({"whiting": 60, "kaolin": 40}, 1000, extras={"red iron oxide": 25})
    assert sum(batch.values()) == pytest.approx(1000)
    assert batch["red iron oxide"] == pytest.approx(200)


def test_a_batch_by_its_base_puts_the_additions_on_top():
    batch = weigh_out({"whiting": 60, "kaolin": 40}, 1000, extras={"tin oxide": 5}, of_base=True)
    assert batch == pytest.approx({"whiting": 600, "kaolin": 400, "tin oxide": 50})


def test_a_batch_is_weighed_by_the_names_on_the_bags():
    # With an analysis of each of their own, kaolin and china clay are two materials.
    assert weigh_out({"kaolin": 1, "china clay": 3}, 100) == {"kaolin": 25, "china clay": 75}


@pytest.mark.parametrize("mass", [0, -5, None, "500", float("nan")])
def test_a_batch_of_no_mass_is_refused(mass):
    with pytest.raises(InvalidValue):
        weigh_out({"whiting": 60}, mass)
