"""Body fit against scikit-learn's logistic regression, where both must agree."""

import numpy as np
import pytest
from sklearn.linear_model import LogisticRegression

from diagnose.body_limit.fit import Seen, fit


@pytest.mark.parametrize("seed", range(6))
def test_limit_agrees_with_a_logistic_regression_when_expansions_are_exact(seed):
    """With many tiles and no error of the expansions both estimate the same half-way point."""
    rng = np.random.default_rng(seed)
    limit = rng.uniform(6, 8)
    expansion = limit + rng.uniform(-1, 1, 300)
    crazed = rng.random(300) < 1 / (1 + np.exp(-(expansion - limit) / 0.2))
    seen = [
        Seen(str(n), x, x - 1e-3, x + 1e-3, bool(y))
        for n, (x, y) in enumerate(zip(expansion, crazed, strict=True))
    ]
    model = LogisticRegression(C=np.inf, max_iter=1000).fit(expansion[:, None], crazed)
    half_way = -model.intercept_[0] / model.coef_[0, 0]
    found = fit(seen)
    assert found.value == pytest.approx(half_way, abs=0.06)
    assert found.high - found.low < 0.3
