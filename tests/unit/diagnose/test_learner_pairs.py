"""What a glaze does in one company and not in another."""

from dataclasses import replace

import numpy as np
import pandas as pd
import pytest

from diagnose import learner
from diagnose.learning import pairs
from diagnose.learning.model import learn_seen

GLAZES = [f"glaze {n}" for n in range(6)]
EACH = 14
COMPANY = {
    "body": ("body", "white clay", "red clay"),
    "coat": ("coats", 3, 1),
    "beneath": ("under_glaze", "leaf", None),
    "layer": ("under_glaze", "moss", "brick"),
    "coats beneath": ("under_coats", 3, 1),
    "cone": ("cone_reached", "04", "06"),
    "batch": ("batch", "June", "May"),
    "kiln": ("kiln", "big kiln", "small kiln"),
    "bisque": ("bisque_cone", "02", "04"),
    "cooling": ("clue_cooled_slowly", "no", "yes"),
}
"""The flat column of each company, a value with which glaze 0 fails, and one with which not."""


def studio(column, fails, sound):
    rows = []
    for glaze in GLAZES:
        for number in range(EACH):
            met = fails if number % 2 else sound
            seen = "moderate" if glaze == GLAZES[0] and met == fails else "none"
            rows.append({"mark": f"{glaze}-{number}", "body": "red clay", "glaze": glaze,
                         column: met, "inspected_on": "2026-03-02", "firing": f"F{number // 2}",
                         "defect_other": seen, "under_glaze_role": "underglaze"})  # fmt: skip
    frame = pd.DataFrame(rows)
    if column == "under_coats":
        return frame.assign(under_glaze="leaf")
    if column == "under_glaze":
        frame["under_glaze_role"] = np.where(frame[column].isna(), None, "underglaze")
        return frame
    return frame.drop(columns="under_glaze_role")


@pytest.mark.parametrize("kind", pairs.COMPANY)
def test_a_glaze_that_fails_in_one_company_is_forecast_so_there(kind):
    column, fails, sound = COMPANY[kind]
    frame = studio(column, fails, sound)
    chance = learner.fit(frame).predict_proba(frame)["defect_other"]
    met = frame[column] == fails
    of_it, of_others = frame["glaze"] == GLAZES[0], frame["glaze"] == GLAZES[3]
    assert chance[of_it & met].mean() > 3 * chance[of_it & ~met].mean()
    assert chance[of_it & met].mean() > 3 * chance[of_others & met].mean()


@pytest.mark.parametrize(("also", "is_told"), [(None, False), ("3 coats", True)])
def test_a_pair_is_told_only_where_the_glaze_has_met_something_else(also, is_told):
    met = ["1 coat", *([also] if also else [])]
    known = pairs.Known(
        [pairs.BETWEEN.join(("coat", "moss", each)) for each in met], [5] * len(met)
    )
    assert known.has_contrast(pairs.BETWEEN.join(("coat", "moss", "1 coat"))) is is_told


def test_what_is_left_open_is_averaged_by_how_often_it_was_met():
    names = [pairs.BETWEEN.join(("coat", "moss", each)) for each in ("1 coat", "3 coats")]
    known = pairs.Known(names, [3, 1])
    effects = pairs.Effects(np.array([-2.0, 2.0]), np.ones(2))
    row = np.array([[pairs.BETWEEN.join(("coat", "moss", ""))]], dtype=object)
    (z,) = effects.averaged(np.zeros(1), known.opened(row))
    assert 1 / (1 + np.exp(-z)) == pytest.approx(0.75 / (1 + np.e**2) + 0.25 / (1 + np.e**-2))
    met = np.array([[names[1]]], dtype=object)
    assert effects.averaged(np.zeros(1), known.opened(met)).tolist() == [0.0]
    assert known.places(met).tolist() == [[1]]


def test_a_fold_keeps_nothing_of_what_its_held_back_tiles_showed():
    frame = studio("coats", 3, 1)
    frame.loc[(frame["glaze"] == GLAZES[1]) & (frame["coats"] == 3), "defect_other"] = "moderate"
    model = learner.fit(frame)
    training, outcomes = model.training, model.training.outcomes
    held_back = (frame["glaze"] == GLAZES[0]).to_numpy()
    folded = learn_seen(training, ~held_back, model.learned.widths, near=model.learned)
    flipped = outcomes | {"other": np.where(held_back, 1 - outcomes["other"], outcomes["other"])}
    flipped = replace(training, outcomes=flipped)
    other_way = learn_seen(flipped, ~held_back, model.learned.widths, near=model.learned)
    effects = folded.defects["other"].paired.u
    of_held_back = [GLAZES[0] in name for name in folded.known_pairs.names]
    assert not effects[of_held_back].any()
    assert effects.tolist() == other_way.defects["other"].paired.u.tolist()


def one_pair(failed, tiles, sd):
    """The effect of one pair at even odds, of which so many tiles failed."""
    y = np.array([1.0] * failed + [0.0] * (tiles - failed))
    found = pairs.fit(
        np.zeros(tiles), y, np.ones(tiles), np.zeros((1, tiles), int), sd, np.zeros(1)
    )
    return float(found.u[0])


def normal(failed, tiles, sd):
    """The same with a normal belief of that width, by bisection on its equation."""
    low, high = -20.0, 20.0
    for _ in range(80):
        u = (low + high) / 2
        pull = failed - tiles / (1 + np.exp(-u)) - u / sd**2
        low, high = (u, high) if pull > 0 else (low, u)
    return u


def test_what_stands_out_is_not_held_back_for_the_many_that_do_not():
    assert one_pair(10, 10, 0.3) > 1.5 * normal(10, 10, 0.3)
    assert 0 < one_pair(6, 10, 0.3) < 1.2 * normal(6, 10, 0.3)
    assert one_pair(5, 10, 0.3) == pytest.approx(0.0, abs=1e-6)


def test_effects_are_as_large_upwards_as_downwards():
    assert one_pair(9, 10, 0.3) == pytest.approx(-one_pair(1, 10, 0.3))


def test_a_pair_never_met_adds_nothing_and_is_the_less_certain():
    met = pairs.Effects(np.array([1.0]), np.array([4.0]))
    place = np.array([[0, -1]])
    assert met.added(place).tolist() == [1.0, 0.0]
    assert met.variance(place, 0.7).tolist() == pytest.approx([0.25, 0.49])


def test_every_company_can_be_said():
    said = {kind: pairs.said(kind, str(COMPANY[kind][1])) for kind in pairs.COMPANY}
    assert said["batch"] == "from batch June"
    assert said["kiln"] == "in big kiln"
    assert said["bisque"] == "on bisque of cone 02"
    assert pairs.said("cooling", pairs.COOLED["yes"]) == "where it cooled slowly"
    assert said["beneath"] == "over a leaf"
    assert pairs.said("coats beneath", "3 coats of leaf") == "over 3 coats of leaf"
