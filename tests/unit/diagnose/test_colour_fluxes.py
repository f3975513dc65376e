"""A colour beneath that melts into the glaze: what names it, and what own tiles say of it."""

import pytest

from diagnose.case import weigh_case
from diagnose.measures.of_area import measures
from diagnose.own_tiles.say import joined, your_tiles_say
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile

FLUXES = "colour_fluxes"
CLEAR = {"glaze": {"name": "clear", "kind": "jar"}, "coats": 1}


def over(number, name=None, defects=(), role="underglaze", **layer):
    """A tile with a clear over this colour, or over bare clay."""
    below = [{"glaze": {"name": name, "role": role}, "coats": 2, **layer}] if name else []
    areas = [{"number": 1, "layers": [*below, CLEAR]}]
    return tile(number, areas=areas, defects=defects, cone_reached="05")


def row_of(case, name=FLUXES):
    return next(row for row in case.rows if row.name == name)


@pytest.mark.parametrize(
    ("name", "is_told"),
    [("cobalt underglaze", True), ("iron wash", True), ("coral", False), ("environment", False)],
)
def test_a_colour_named_for_a_flux_is_read_where_it_lies_under_the_glaze(name, is_told):
    assert ("flux_beneath" in measures(over(1, name), 1)) is is_told
    alone = tile(2, areas=[{"number": 1, "layers": [{"glaze": {"name": name}, "coats": 2}]}])
    assert "flux_beneath" not in measures(alone, 1)


def test_the_recipe_of_the_colour_tells_it_too():
    recipe = {"lines": [{"material": "Copper carbonate", "parts": 50}]}
    fact = measures(over(1, "pond wash", role="wash", recipe=recipe), 1)["flux_beneath"]
    assert fact.said == "pond wash, with Copper carbonate in it, lies under the glaze"


def test_without_a_colour_beneath_it_is_ruled_out():
    assert row_of(weigh_case(over(1, None, ["running"]), "running")).is_ruled_out
    assert not row_of(weigh_case(over(1, "coral", ["running"]), "running")).is_ruled_out


def test_own_tiles_over_one_colour_alone_speak_for_it_and_for_no_unknown_cause():
    failed = over(1, "cobalt underglaze", ["running"])
    own = [over(10 + n, "cobalt underglaze", ["running"]) for n in range(5)]
    own += [over(20 + n, "coral") for n in range(6)] + [over(30 + n) for n in range(6)]
    told = your_tiles_say([*own, failed], failed, 1, "running")
    case = joined(weigh_case(failed, "running"), told)
    assert case.first.name == FLUXES
    assert row_of(case, "").own == 0
    (answer,) = why(failed, others=own)
    assert answer.enough_to_tell
    assert "over cobalt underglaze" in answer.causes[0].your_tiles[0]
    assert any("coral" in each for each in answer.causes[0].fixes)
