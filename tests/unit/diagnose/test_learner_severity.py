"""How bad a fault was counts as evidence of what brings it on."""

from functools import cache

import numpy as np
import pandas as pd
import pytest
from scipy.optimize import minimize

from diagnose import learner
from diagnose.learning import newton, rows, severity
from tests.bench.flat_frame import records_from_frame
from tests.unit.diagnose.test_learner import CRAWLING, studio
from tiles.exchange.flat_columns import defect_column
from tiles.records.words import DEFECTS, SEVERITIES

SAID = ["none", "slight", "moderate", "severe", "seen"]
GROUPS, SD_GROUP = 5, 0.7


def class_of_two(bad, mild):
    """Two glazes that crawl on 6 of 15 tiles each, and a third that never did."""
    glazes = [(name, word) for name, word in (("moss", bad), ("fern", mild), ("sky", "none"))]
    return pd.DataFrame(
        [
            {"mark": f"{name}-{n}", "body": "red clay", "glaze": name, "coats": 2.0,
             CRAWLING: word if n < 6 else "none"}
            for name, word in glazes for n in range(15)
        ]
    )  # fmt: skip


def chances(frame):
    told = learner.fit(frame).predict_proba(frame)[CRAWLING]
    return told.groupby(frame["glaze"]).first()


@cache
def of_two(bad, mild):
    return chances(class_of_two(bad, mild))


def test_of_two_glazes_that_failed_as_often_the_one_that_failed_badly_is_feared_more():
    told = of_two("severe", "slight")
    assert told["moss"] > 1.15 * told["fern"] > 1.15 * told["sky"]
    other = of_two("slight", "severe")
    assert other["fern"] == pytest.approx(told["moss"], rel=1e-3)


@pytest.mark.parametrize("word", SEVERITIES)
def test_one_word_for_all_faults_says_next_to_nothing(word):
    told, plain = of_two(word, word), of_two("seen", "seen")
    assert np.abs(told - plain).max() < 0.04


def test_below_the_tiles_it_takes_to_learn_a_severity_moves_nothing():
    few, plain = (class_of_two(*words).iloc[::3] for words in (("severe", "slight"), ("seen",) * 2))
    pd.testing.assert_series_equal(chances(few), chances(plain))


def test_the_mode_is_that_of_a_general_minimiser_over_both_answers():
    rng = np.random.default_rng(3)
    n = 150
    x = np.column_stack([np.ones(n), rng.normal(size=(n, 2))])
    group, offset = rng.integers(0, GROUPS, n), rng.normal(0, 0.3, n)
    y = (rng.random(n) < 0.4).astype(float)
    worse = np.where((y == 1) & (rng.random(n) < 0.8), (rng.random(n) < 0.5).astype(float), np.nan)
    weight, mean, sd = (
        rng.choice([0.5, 1.0], n),
        np.array([-1.0, 0.4, 0.0]),
        np.array([0.6, 0.5, 1]),
    )
    told = severity.answers(x, y, worse, weight, group)
    fitted = told.fit(mean, sd, GROUPS, SD_GROUP, None, offset)
    said = np.isfinite(worse)

    def loss(b):
        z = x @ b[:3] + b[3:-1][group] + offset
        also = severity.HALF * z[said] + b[-1]
        return (
            weight @ (np.logaddexp(0, z) - y * z)
            + weight[said] @ (np.logaddexp(0, also) - worse[said] * also)
            + 0.5 * sd**-2.0 @ (b[:3] - mean) ** 2
            + 0.5 * SD_GROUP**-2.0 * b[3:-1] @ b[3:-1]
            + 0.5 * severity.WORSE_SD**-2.0 * (b[-1] - severity.WORSE_MEAN) ** 2
        )

    start = np.append(mean, np.zeros(GROUPS + 1))
    found = minimize(loss, start, method="BFGS", options={"gtol": 1e-8}).x
    np.testing.assert_allclose(np.append(fitted.b, fitted.u), found[:-1], atol=2e-3)
    alone = newton.fit(x, y, weight, mean, sd, group, GROUPS, SD_GROUP, None, offset)
    assert np.abs(alone.u - fitted.u).max() > 0.01


def test_the_variance_is_that_of_all_answers_together():
    rng = np.random.default_rng(5)
    n = 80
    x, group = np.column_stack([np.ones(n), rng.normal(size=n)]), rng.integers(0, GROUPS, n)
    y = (rng.random(n) < 0.5).astype(float)
    worse = np.where(y == 1, (rng.random(n) < 0.5).astype(float), np.nan)
    mean, sd = np.array([0.0, 0.5]), np.array([0.6, 0.5])
    fitted = severity.answers(x, y, worse, np.ones(n), group).fit(mean, sd, GROUPS, SD_GROUP)
    wide = np.column_stack([x, group[:, None] == np.arange(GROUPS), np.zeros(n)]).astype(float)
    said = np.flatnonzero(np.isfinite(worse))
    also = severity.HALF * wide[said]
    also[:, -1] = 1.0
    z = wide[:, :-1] @ np.append(fitted.b, fitted.u)
    c = minimize(
        lambda c: (
            (np.logaddexp(0, c + z[said] / 2) - worse[said] * (c + z[said] / 2)).sum()
            + 0.5 * ((c - severity.WORSE_MEAN) / severity.WORSE_SD) ** 2
        ),
        np.zeros(1),
    ).x
    p, q = newton.chance(z), newton.chance(c + z[said] / 2)
    precision = np.r_[sd**-2.0, np.full(GROUPS, SD_GROUP**-2.0), severity.WORSE_SD**-2.0]
    hessian = (wide.T * (p * (1 - p))) @ wide + (also.T * (q * (1 - q))) @ also + np.diag(precision)
    expected = np.einsum("ij,jk,ik->i", wide, np.linalg.inv(hessian), wide)
    got = newton.variance(fitted, x, group, SD_GROUP)
    np.testing.assert_allclose(got, expected, rtol=1e-2)


def test_records_and_a_frame_tell_the_same_and_the_worst_look_counts():
    frame = studio(
        30, inspected_on="2024-03-01", **{defect_column(each): "none" for each in DEFECTS}
    )
    frame[CRAWLING] = [SAID[n % 5] for n in range(30)]
    by_frame, records = rows.from_frame(frame), records_from_frame(frame)
    by_record = rows.from_records(records)
    for defect in DEFECTS:
        np.testing.assert_array_equal(by_frame.outcomes[defect], by_record.outcomes[defect])
        np.testing.assert_array_equal(by_frame.worse[defect], by_record.worse[defect])
    assert by_frame.worse["crawling"][:5].tolist()[1:4] == [0.0, 1.0, 1.0]
    assert np.isnan(by_frame.worse["crawling"][[0, 4]]).all()
    slight, severe = records[1], records[3]
    slight.inspections += severe.inspections
    assert rows.from_records([slight]).worse["crawling"].tolist() == [1.0]


def test_without_any_record_there_is_nothing_to_read():
    told = rows.from_records([])
    assert {each.shape for each in (*told.outcomes.values(), *told.worse.values())} == {(0,)}
