"""Which way a number of the recipe is to move, and the room that the others have on either side."""

from types import SimpleNamespace

import pytest

from diagnose.fixes.aims import MOST_MARGIN, STEP, Body, less_opacifier, raise_expansion
from diagnose.fixes.bounds import BORON_BAND, EXPANSION_BAND, VISCOSITY_BAND, Aim, bands
from diagnose.fixes.glass import Figures, per_hundred
from tiles.chemistry.formula import analyse

CLEAR = {"soda borate frit": 30, "calcium borate frit": 16, "kaolin": 24, "silica": 22,
         "whiting": 8}  # fmt: skip
NOW = Figures(per_hundred(analyse(CLEAR)), 1046.0, counts_boron=True)


@pytest.mark.parametrize(
    ("body", "wanted"),
    [
        (None, NOW.expansion + STEP),
        (NOW.expansion + MOST_MARGIN - 0.1, NOW.expansion + STEP),
        (NOW.expansion + MOST_MARGIN + 0.2, NOW.expansion + 0.2),
    ],
    ids=["body not measured", "as near to it as is usual", "too far below it"],
)
def test_a_glaze_that_shivers_is_to_shrink_more_whatever_is_known_of_the_body(body, wanted):
    aim = raise_expansion(NOW, Body("buff", body)).aim
    assert aim.goes_up and aim.wanted == pytest.approx(wanted)


def test_of_a_glaze_without_opacifier_none_can_be_taken_out():
    aimed = less_opacifier(NOW, Body("buff"))
    assert (aimed.aim, aimed.say) == (None, "It holds no tin oxide or zircon.")


@pytest.mark.parametrize(
    ("quantity", "room"),
    [("boron", BORON_BAND), ("expansion", EXPANSION_BAND), ("viscosity", VISCOSITY_BAND)],
)
def test_a_glass_may_change_by_its_room_downwards_as_upwards(quantity, room):
    was, aim = getattr(NOW, quantity), Aim("gas down", "loss", NOW.loss, NOW.loss - 1)
    (band,) = [each for each in bands(NOW, aim) if each.quantity == quantity]
    for by, is_held in ((-1.1, False), (-0.9, True), (0.9, True), (1.1, False)):
        assert band.holds(SimpleNamespace(**{quantity: was + by * room})) is is_held
