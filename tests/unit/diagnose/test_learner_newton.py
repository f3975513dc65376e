"""The Newton search and its group effects, against a general minimiser and a full matrix."""

import numpy as np
import pytest
from scipy.optimize import minimize

from diagnose.learning import newton

N, GROUPS, SD_GROUP = 120, 7, 0.8


@pytest.fixture
def case():
    rng = np.random.default_rng(11)
    x = np.column_stack([np.ones(N), rng.normal(size=(N, 3))])
    group = rng.integers(-1, GROUPS, N)
    effect = np.append(rng.normal(0, SD_GROUP, GROUPS), 0.0)
    z = x @ [-1.0, 0.8, -0.4, 0.0] + effect[group]
    y = (rng.random(N) < 1 / (1 + np.exp(-z))).astype(float)
    weight = rng.choice([0.5, 1.0], N)
    mean, sd = np.array([-1.0, 0.5, 0.0, 0.0]), np.array([0.6, 0.5, 1.0, 0.2])
    return x, y, weight, mean, sd, group


def wide(x, group):
    """The group effects as columns of their own."""
    return np.column_stack([x, (group[:, None] == np.arange(GROUPS)).astype(float)])


def test_the_mode_is_that_of_a_general_minimiser_over_all_columns(case):
    x, y, weight, mean, sd, group = case
    fitted = newton.fit(x, y, weight, mean, sd, group, GROUPS, SD_GROUP)
    full = wide(x, group)
    centre = np.append(mean, np.zeros(GROUPS))
    precision = np.append(sd**-2.0, np.full(GROUPS, SD_GROUP**-2.0))

    def loss(b):
        z = full @ b
        return weight @ (np.logaddexp(0, z) - y * z) + 0.5 * precision @ (b - centre) ** 2

    found = minimize(loss, centre, method="BFGS", options={"gtol": 1e-8})
    np.testing.assert_allclose(np.append(fitted.b, fitted.u), found.x, atol=2e-3)


def test_the_variance_is_that_of_the_whole_matrix_and_a_new_group_adds_its_own(case):
    x, y, weight, mean, sd, group = case
    fitted = newton.fit(x, y, weight, mean, sd, group, GROUPS, SD_GROUP)
    full = wide(x, group)
    p = newton.chance(full @ np.append(fitted.b, fitted.u))
    precision = np.append(sd**-2.0, np.full(GROUPS, SD_GROUP**-2.0))
    hessian = full.T @ (full * (weight * p * (1 - p))[:, None]) + np.diag(precision)
    expected = np.einsum("ij,jk,ik->i", full, np.linalg.inv(hessian), full)
    met = group >= 0
    got = newton.variance(fitted, x, group, SD_GROUP)
    np.testing.assert_allclose(got[met], expected[met], rtol=1e-2)
    np.testing.assert_allclose(got[~met], expected[~met] + SD_GROUP**2, rtol=1e-2)


def test_no_rows_at_all_leave_the_prior_as_it_is():
    mean, sd = np.array([-2.0, 1.0]), np.array([0.6, 0.3])
    fitted = newton.fit(np.zeros((0, 2)), np.zeros(0), np.zeros(0), mean, sd)
    np.testing.assert_allclose(fitted.b, mean)
    np.testing.assert_allclose(np.diag(fitted.cov), sd**2)


def test_the_start_gives_the_usual_prevalence():
    z = np.array([-3.0, 0.0, 2.0, 5.0])
    start = newton.start_at(z, 0.2)
    assert newton.chance(start + z).mean() == pytest.approx(0.2, abs=1e-6)


def test_learning_keeps_to_one_thread_and_leaves_others_theirs():
    from threadpoolctl import threadpool_info, threadpool_limits

    from diagnose.learning.threads import on_one_thread

    def threads():
        return {each["num_threads"] for each in threadpool_info() if each["user_api"] == "blas"}

    with threadpool_limits(2, user_api="blas"):
        before = threads()
        assert before != {1}
        assert on_one_thread(threads)() == {1}
        assert threads() == before
    assert hasattr(newton.fit, "__wrapped__")  # it is one of them
