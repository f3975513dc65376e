"""Many Seger formulas at once against a plain Python loop, in one run."""

import time

import numpy as np
import pytest

from tiles.chemistry import formula, materials, oxides

NAMES = ["potash feldspar", "whiting", "kaolin", "silica", "calcium borate frit", "zinc oxide"]
RECIPES = 100_000
LEAST_RATIO = 20


def plain_loop(table, per_g, fluxes):
    """The same sums with nothing but dicts and loops: the leanest plain Python we could write."""
    found = []
    for row in table:
        moles = {}
        for parts, brought in zip(row, per_g, strict=True):
            for oxide, amount in brought:
                moles[oxide] = moles.get(oxide, 0.0) + parts * amount
        flux = sum(amount for oxide, amount in moles.items() if oxide in fluxes)
        found.append({oxide: amount / flux for oxide, amount in moles.items()})
    return found


def best_of(times, call):
    took = []
    for _ in range(times):
        started = time.perf_counter()
        result = call()
        took.append(time.perf_counter() - started)
    return min(took), result


@pytest.mark.slow
@pytest.mark.alone
def test_many_formulas_are_far_faster_than_a_plain_loop_and_the_same():
    parts = np.random.default_rng(7).uniform(1, 40, size=(RECIPES, len(NAMES)))
    fluxes = set(oxides.with_role("flux"))
    per_g = [tuple(materials.find(name).moles_per_g.items()) for name in NAMES]
    table = parts.tolist()

    # The best of several for both, so that another program's burst does not decide.
    loop_s, slow = best_of(2, lambda: plain_loop(table, per_g, fluxes))
    arrays_s, unity = best_of(7, lambda: formula.many(parts, NAMES).unity)
    columns = formula.many(parts[:1], NAMES).oxides

    print(f"\n{RECIPES} recipes x {len(NAMES)} materials: loop {loop_s:.2f} s, ", end="")
    print(f"arrays {arrays_s * 1000:.1f} ms (best of 2 and 7), ratio {loop_s / arrays_s:.0f}")
    for row in (0, 4711, RECIPES - 1):
        expected = [slow[row].get(oxide, 0.0) for oxide in columns]
        assert unity[row] == pytest.approx(expected, rel=1e-12)
    assert loop_s / arrays_s >= LEAST_RATIO
