"""Figures of many recipes at once are those of each alone, and the best of a grid is among them."""

from collections import Counter
from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from diagnose.fixes.bounds import HAIR, MOST_PARTS, Aim, bands, keeps_new_fluxes
from diagnose.fixes.glass import Figures, glass_moved, per_hundred
from diagnose.fixes.many import ManyFigures, Search, leaders
from diagnose.fixes.search import best_at, families, parts_moved
from tiles.chemistry.formula import analyse

LOW = {"soda borate frit": 30, "high alkali frit": 8, "calcium borate frit": 16, "kaolin": 18,
       "low expansion frit": 8, "silica": 14, "whiting": 6, "tin oxide": 5}  # fmt: skip
STEP = 2.5
BARE = {"whiting": 30, "silica": 70}
QUANTITIES = ("ratio", "silica", "alumina", "boron", "loss", "raw_clay", "expansion", "viscosity",
              "opacifier", "zinc", "colour_flux")  # fmt: skip


@pytest.mark.parametrize("counts_boron", [True, False])
def test_figures_of_many_recipes_are_those_of_each(counts_boron):
    one = per_hundred(analyse(LOW))
    kaolin, frit = np.array([18.0, 9.5, 0.0]), np.array([30.0, 41.0, 0.0])
    many = replace(one, parts={**one.parts, "kaolin": kaolin, "soda borate frit": frit})
    found = ManyFigures(many, 1050.0, counts_boron)
    for at in range(3):
        parts = {**one.parts, "kaolin": kaolin[at], "soda borate frit": frit[at]}
        alone = Figures(replace(one, parts=parts), 1050.0, counts_boron)
        for quantity in QUANTITIES:
            value = np.broadcast_to(getattr(found, quantity), 3)[at]
            assert value == pytest.approx(getattr(alone, quantity), rel=1e-12), quantity


def test_a_glass_without_alumina_has_no_end_of_gloss():
    one = per_hundred(analyse(BARE))
    found = ManyFigures(
        replace(one, parts={**one.parts, "silica": np.array([20.0, 25.0])}), None, True
    )
    assert list(found.ratio) == [float("inf")] * 2
    assert found.viscosity is None


@pytest.mark.parametrize("by", [-0.4, -3.0], ids=["in reach", "out of reach"])
def test_the_best_of_a_grid_is_that_of_its_points_one_by_one(by):
    before = Figures(per_hundred(analyse(LOW)), 1050.0, True)
    aim = Aim("expansion down", "expansion", before.expansion, before.expansion + by)
    limits = bands(before, aim)
    found = [
        (best_at(family, before, aim, limits, MOST_PARTS, STEP), _one_by_one(family, aim, before))
        for family in families(before, aim, "low_fire")
    ]
    assert sum(best is not None for best, _ in found) >= 4
    for best, (shortfall, cost, amounts) in found:
        assert (best is None) == (amounts is None)
        if best:
            assert (best.shortfall, best.cost) == pytest.approx((shortfall, cost), abs=1e-9)
            assert best.amounts == amounts


def _one_by_one(family, aim, before):
    """Shortfall, cost and amounts of the best, by the words at the head of the search."""
    steps = np.arange(STEP, MOST_PARTS + HAIR, STEP).tolist()
    points = (_point(family, aim, before, each) for each in product(steps, repeat=len(family)))
    return min(filter(None, points), default=(None, None, None))


def _point(family, aim, before, amounts):
    moves = Counter()
    for each, amount in zip(family, amounts, strict=True):
        moves.update({name: weight * amount for name, weight in each.moves.items()})
    parts = before.recipe.parts
    if any(parts.get(name, 0.0) + by < -HAIR for name, by in moves.items()):
        return None
    if not 0 < parts_moved(moves) <= MOST_PARTS + HAIR:
        return None
    after = Figures(before.recipe.moved(moves), before.temperature_c, before.counts_boron)
    limits = bands(before, aim)
    kept = [each.holds(after) for each in limits]
    if not all(kept) or not keeps_new_fluxes(before.unity, after.unity):
        return None
    strains = [each.strain(after) for each in limits if each.quantity != aim.quantity]
    new = sum(name not in parts for name, by in moves.items() if abs(by) > HAIR)
    cost = parts_moved(moves) / 15 + glass_moved(before.moles, after.moles) / 10 + 0.1 * new
    cost += sum(strains) / len(strains)
    return round(aim.shortfall(after.expansion), 9), cost, amounts


def test_no_amount_that_breaks_a_limit_leads():
    before = Figures(per_hundred(analyse(LOW)), 1050.0, True)
    aim = Aim("expansion down", "expansion", before.expansion, before.expansion - 0.4)
    shut = [replace(band, low=band.was + 1, high=band.was + 2) for band in bands(before, aim)]
    family = families(before, aim, "low_fire")[0]
    search = Search(before, aim, shut, MOST_PARTS, 0.0)
    assert leaders([(1.0,), (2.0,)], family, search, (15.0, 0.1, 10.0)) == []
