"""Laws of the learner that hold for any frame."""

import numpy as np
import pandas as pd
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose import learner
from diagnose.learning import newton
from diagnose.learning.blanks import outside, spread
from tiles.records.words import DEFECTS

cell = st.sampled_from([None, np.nan, ""])
row = st.fixed_dictionaries(
    {
        "mark": cell | st.sampled_from(["A", "B", "C"]),
        "glaze": cell | st.sampled_from(["green", "blue"]),
        "body": cell | st.sampled_from(["red", "white"]),
        "body_kind": cell | st.sampled_from(["earthenware", "stoneware", "mud"]),
        "coats": cell | st.integers(1, 5),
        "thickness_mm": cell | st.floats(0.1, 3),
        "cone_reached": cell | st.sampled_from(["05", "6", "warm"]),
        "target_cone": cell | st.sampled_from(["05", "6"]),
        "clue_bisque_dusty": cell | st.sampled_from(["yes", "no"]),
        "defect_crawling": cell | st.sampled_from(["none", "slight", "severe", "seen"]),
        "defect_running": cell | st.sampled_from(["none", "moderate"]),
    }
)
frames = st.lists(row, min_size=1, max_size=12).map(pd.DataFrame)


@given(frames)
@settings(max_examples=25, deadline=None)
def test_any_frame_gives_a_chance_within_its_range_for_every_defect(frame):
    model = learner.fit(frame)
    chance, ends = model.predict_proba(frame), model.predict_range(frame)
    assert chance.shape == (len(frame), len(DEFECTS))
    for column in chance:
        assert ((chance[column] > 0) & (chance[column] < 1)).all()
        assert (ends[column, "low"] <= chance[column]).all()
        assert (chance[column] <= ends[column, "high"]).all()


@given(frames)
@settings(max_examples=15, deadline=None)
def test_doubling_every_tile_under_another_mark_narrows_every_range(frame):
    frame = frame.assign(mark=[f"T-{at}" for at in range(len(frame))])
    again = frame.assign(mark=[f"U-{at}" for at in range(len(frame))])
    many = pd.concat([frame, again] * 3, ignore_index=True)
    many["mark"] = [f"T-{at}" for at in range(len(many))]
    # Without a glaze or body to tell apart, more tiles can only tell more of the usual rate.
    keep = ["mark", "defect_crawling"]
    few, more = learner.fit(frame[keep]), learner.fit(many[keep])
    if few.learned.defects["crawling"].widths != more.learned.defects["crawling"].widths:
        return
    width = [
        float((np.log(e["high"] / (1 - e["high"])) - np.log(e["low"] / (1 - e["low"]))).iloc[0])
        for e in (model.predict_range(frame[keep])["defect_crawling"] for model in (few, more))
    ]
    assert width[1] <= width[0] + 1e-6


@given(st.lists(st.integers(), min_size=1, max_size=30), st.integers(1, 40))
def test_spread_keeps_order_and_takes_only_what_is_there(values, count):
    values = sorted(values)
    told = spread(values, count)
    assert len(told) == count
    assert told == sorted(told)
    assert set(told) <= set(values)


@given(st.floats(0, 30), st.floats(0, 15), st.floats(0, 15))
def test_steps_outside_a_range_are_nought_inside_it(place, low, width):
    steps = float(outside(np.array(place), np.array(low), np.array(low + width)))
    assert (steps == 0) == (low <= place <= low + width)


@given(st.floats(-20, 20), st.floats(0, 100), st.floats(0.001, 0.999))
def test_averaging_draws_a_forecast_towards_the_usual_and_never_across(z, variance, usual):
    told = float(newton.averaged(np.array(z), np.array(variance), usual))
    middle = np.log(usual / (1 - usual))
    assert min(z, middle) - 1e-9 <= told <= max(z, middle) + 1e-9
