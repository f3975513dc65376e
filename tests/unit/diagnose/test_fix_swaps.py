"""The list of small recipe changes: its shape, and that each of them can be proposed."""

import re

import pytest

from diagnose.fixes.aims import AIMS, Body
from diagnose.fixes.bounds import MOST_PARTS, Aim, bands
from diagnose.fixes.glass import Figures, per_hundred
from diagnose.fixes.materials import _KINDS
from diagnose.fixes.search import best_of, parts_moved
from diagnose.fixes.swaps import fitted, swaps
from tiles.chemistry.formula import analyse
from tiles.chemistry.materials import find

AIM_WORDS = {
    *("expansion down", "expansion up", "viscosity up", "viscosity down"),
    *("raw clay down", "gas down", "gloss up", "opacifier down"),
    *("zinc down", "alumina up", "lithium out, expansion up", "colour flux down"),
}
TAGS = {"read", "memory", "common practice", "estimate"}
KINDS = {*_KINDS, "raw clay", "calcined clay"}

LOW = {
    "soda borate frit": 30,
    "high alkali frit": 8,
    "calcium borate frit": 16,
    "low expansion frit": 8,
    "kaolin": 18,
    "silica": 14,
    "whiting": 6,
}
MID = {
    "soda feldspar": 36,
    "calcium borate frit": 10,
    "whiting": 16,
    "kaolin": 18,
    "silica": 12,
    "spodumene": 4,
    "colemanite": 4,
}
TOLD_BY_NUMBERS = re.compile(r"stiff|fluid|melts|runs|gloss|more clay|less clay|milky|craz")
STEPS = {"up": 1, "down": -1}
QUANTITY = {
    "expansion": ("expansion", 0.1),
    "viscosity": ("viscosity", 0.1),
    "raw clay": ("raw_clay", 2.0),
    "gas": ("loss", 0.5),
    "gloss": ("ratio", 0.4),
    "opacifier": ("opacifier", 2.0),
    "zinc": ("zinc", 2.0),
    "colour flux": ("colour_flux", 2.0),
    "alumina": ("alumina", 0.02),
    "lithium out, expansion": ("expansion", 0.1),
}


def _bench(swap):
    """A recipe that holds what the swap takes, and a small aim of the kind it is for."""
    needed = set(swap.takes)
    is_mid = swap.only == "mid_range" or needed & {"feldspar", "lithium mineral", "borate mineral"}
    recipe = dict(MID if is_mid else LOW)
    recipe |= {"zinc oxide": 5} if "zinc oxide" in needed else {}
    extras = {"tin oxide": 6} if "opacifier" in needed else {}
    extras |= {"copper carbonate": 6} if "fluxing colour" in needed else {}
    made_of = analyse(recipe, extras=extras)
    temperature = 1222.0 if is_mid else 1046.0
    return Figures(per_hundred(made_of), temperature, not is_mid), (
        "mid_range" if is_mid else "low_fire"
    )


def _aim(word, now):
    name, _, way = word.rpartition(" ")
    quantity, by = QUANTITY[name]
    value = getattr(now, quantity)
    return Aim(word, quantity, value, value + STEPS[way] * by)


@pytest.mark.parametrize("swap", swaps(), ids=lambda swap: swap.name)
def test_every_swap_is_described_in_full(swap):
    assert set(swap.helps) <= AIM_WORDS and swap.helps
    assert set(swap.takes) <= KINDS and swap.takes
    assert all(weight > 0 for weight in (*swap.takes.values(), *swap.gives.values()))
    assert all(find(name).name == name for name in swap.gives)
    assert swap.tag in TAGS
    assert swap.source
    for text in (swap.spoils, *swap.spoils_with.values()):
        assert text.endswith(".") or text == swap.spoils == ""
        assert not TOLD_BY_NUMBERS.search(text), "spoils.py tells that from the numbers"
    assert swap.only in ("", "low_fire", "mid_range")


def test_swap_names_are_told_once():
    names = [swap.name for swap in swaps()]
    assert len(set(names)) == len(names)


def test_every_aim_has_a_swap_and_every_swap_an_aim():
    used = {word for swap in swaps() for word in swap.helps}
    assert used == AIM_WORDS


@pytest.mark.parametrize(
    ("swap", "word"),
    [(swap, word) for swap in swaps() for word in swap.helps],
    ids=lambda each: getattr(each, "name", each),
)
def test_every_swap_can_be_proposed_and_goes_the_way_it_says(swap, word):
    now, setting = _bench(swap)
    aim = _aim(word, now)
    own = [each for each in fitted(now.recipe, word, setting) if each.swap.name == swap.name]
    assert own, "no line of the recipe to take"
    found = best_of((own[0],), now, aim, bands(now, aim))
    assert found is not None
    value = getattr(found.after, aim.quantity)
    assert (value - aim.now) * (aim.wanted - aim.now) > 0
    assert 0 < parts_moved(found.moves) <= MOST_PARTS


def test_the_calcined_share_keeps_the_formula():
    """0.86 g for each g: kaolinite holds 14.0 % water (computed from its formula)."""
    raw = analyse({"soda feldspar": 40, "whiting": 20, "kaolin": 20, "silica": 20})
    swap = next(each for each in swaps() if each.name == "calcined_for_raw_clay")
    parts = {"soda feldspar": 40, "whiting": 20, "kaolin": 10, "silica": 20}
    half = analyse(parts | {"calcined kaolin": 10 * swap.gives["calcined kaolin"]})
    for oxide, moles in raw.unity.items():
        assert half.unity[oxide] == pytest.approx(moles, abs=0.002)


def test_wollastonite_for_whiting_and_silica_keeps_the_formula():
    """CaCO3 + SiO2 = CaSiO3 + CO2."""
    before = analyse({"soda feldspar": 40, "whiting": 20, "kaolin": 15, "silica": 25})
    swap = next(each for each in swaps() if each.name == "wollastonite_for_whiting")
    parts = {
        "soda feldspar": 40,
        "whiting": 20 - 10 * swap.takes["whiting"],
        "kaolin": 15,
        "silica": 25 - 10 * swap.takes["silica"],
        "wollastonite": 10 * swap.gives["wollastonite"],
    }
    for oxide, moles in before.unity.items():
        assert analyse(parts).unity[oxide] == pytest.approx(moles, abs=0.01)


def test_every_cause_with_an_aim_is_a_cause_of_the_rules():
    from diagnose.rules import load

    for defect, cause in AIMS:
        assert cause in {each.name for each in load(defect).causes}, (defect, cause)


def test_aims_are_told_in_words():
    now, _setting = _bench(swaps()[0])
    for makers in AIMS.values():
        for make in makers:
            say = make(now, Body("red", 6.6)).say
            assert not say or say.endswith((".", ")"))
