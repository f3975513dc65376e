"""The estimator against scikit-learn's own contract, and against its logistic regression."""

import numpy as np
import pytest
from sklearn.linear_model import LogisticRegression
from sklearn.utils.estimator_checks import parametrize_with_checks

from diagnose.learning.estimator import PriorLogistic

EXPECTED_FAILURES: dict[str, str] = {}
"""Checks of the contract that may fail, each with its reason. There are none."""


@pytest.mark.filterwarnings("ignore::sklearn.exceptions.SkipTestWarning")
@parametrize_with_checks(
    [PriorLogistic(), PriorLogistic(prior_mean=0.5, prior_sd=0.3, prevalence=0.3)],
    expected_failed_checks=lambda _estimator: EXPECTED_FAILURES,
)
def test_the_estimator_keeps_the_contract_of_scikit_learn(estimator, check):
    check(estimator)


@pytest.fixture
def data():
    rng = np.random.default_rng(3)
    x = rng.normal(size=(200, 4))
    y = (rng.random(200) < 1 / (1 + np.exp(-(x @ [1.0, -0.5, 0.0, 0.3] - 1)))).astype(int)
    return x, y


def test_a_prior_around_nought_gives_ridge_logistic_regression(data):
    # A normal prior of sd s is an L2 penalty with C = s squared (Hastie, Tibshirani, Friedman,
    # The elements of statistical learning, 2nd ed. 2009, section 3.4.1; from memory). The
    # reference is scikit-learn's solver, whose intercept is not penalised.
    x, y = data
    ours = PriorLogistic(prior_mean=0.0, prior_sd=0.7, intercept_sd=1e4).fit(x, y)
    theirs = LogisticRegression(C=0.7**2, tol=1e-10, max_iter=1000).fit(x, y)
    np.testing.assert_allclose(ours.coef_, theirs.coef_, atol=2e-3)
    np.testing.assert_allclose(ours.intercept_, theirs.intercept_, atol=2e-3)


def test_a_tight_prior_is_not_moved_and_a_wide_one_is(data):
    x, y = data
    tight = PriorLogistic(prior_mean=[2.0, 0, 0, 0], prior_sd=0.01).fit(x, y)
    wide = PriorLogistic(prior_mean=[2.0, 0, 0, 0], prior_sd=3.0).fit(x, y)
    assert tight.coef_[0, 0] == pytest.approx(2.0, abs=0.02)
    assert wide.coef_[0, 0] < 1.8


def test_a_row_far_from_the_data_is_forecast_with_less_certainty_than_the_mode(data):
    x, y = data
    model = PriorLogistic().fit(x[:30], y[:30])
    far = np.array([[8.0, 0.0, 0.0, 0.0]])
    mode = (far @ model.coef_[0] + model.intercept_)[0]
    assert abs(model.decision_function(far)[0]) < abs(mode)
