"""Body fit on simulated bodies, and laws that hold for any tiles."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.body_limit.fit import Seen, fit

BODIES = 240
HALF_TO_SD = 1.6449


def simulated(seed, glazes, tiles=40):
    """Tiles of a body whose limit is known: computed expansions off by a normal error each."""
    rng = np.random.default_rng(seed)
    limit, width = rng.uniform(6.0, 8.0), rng.uniform(0.05, 0.3)
    sd = rng.uniform(0.3, 0.5, glazes)
    computed = limit + rng.uniform(-1.0, 1.0, glazes)
    true = computed + sd * rng.normal(size=glazes)
    which = np.concatenate([np.arange(glazes), rng.integers(0, glazes, tiles - glazes)])
    crazed = rng.random(tiles) < 1 / (1 + np.exp(-(true[which] - limit) / width))
    half = HALF_TO_SD * sd
    seen = [
        Seen(f"g{g}", computed[g], computed[g] - half[g], computed[g] + half[g], bool(c))
        for g, c in zip(which, crazed, strict=True)
    ]
    return limit, seen


def test_forty_informative_tiles_hold_the_true_limit_nine_times_in_ten_within_a_third():
    covered, halves = [], []
    for seed in range(BODIES):
        limit, seen = simulated(seed, glazes=(15, 20, 30, 40)[seed % 4])
        found = fit(seen)
        covered.append(found.low <= limit <= found.high)
        halves.append((found.high - found.low) / 2)
    assert 0.85 <= np.mean(covered) <= 0.95
    assert np.median(halves) <= 0.35


tiles = st.lists(
    st.tuples(st.integers(0, 5), st.floats(4, 9), st.floats(0.1, 1.5), st.booleans()),
    min_size=1,
    max_size=14,
)


def as_seen(rows):
    return [Seen(f"g{g}", x, x - half, x + half, failed) for g, x, half, failed in rows]


@settings(max_examples=25, deadline=None)
@given(tiles, st.sampled_from(("crazing", "shivering")), st.randoms())
def test_order_of_the_tiles_does_not_matter(rows, defect, random):
    seen = as_seen(rows)
    shuffled = random.sample(seen, len(seen))
    assert fit(seen, defect) == fit(shuffled, defect)


@settings(max_examples=25, deadline=None)
@given(tiles, st.floats(-1, 1))
def test_an_error_common_to_all_computed_values_moves_the_limit_alike(rows, shift):
    seen = as_seen(rows)
    moved = [
        Seen(s.glaze, s.value + shift, s.low + shift, s.high + shift, s.happened) for s in seen
    ]
    one, other = fit(seen, "crazing", 6.5), fit(moved, "crazing", 6.5 + shift)
    if one.value is not None:
        assert abs(other.value - one.value - shift) < 0.03


@settings(max_examples=25, deadline=None)
@given(tiles)
def test_one_more_crazed_tile_never_raises_the_limit(rows):
    seen = as_seen(rows)
    more = [*seen, Seen("new", 6.0, 5.5, 6.5, True)]
    one, other = fit(seen), fit(more)
    if one.value is not None and other.value is not None:
        assert other.value <= one.value + 0.02
