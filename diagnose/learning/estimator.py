"""The learner's arithmetic as a scikit-learn estimator, to compare and combine with others.

Only for users of scikit-learn: a kept model forecasts through ``newton`` and never loads this.
"""

# ruff: noqa: N803, N806 - scikit-learn's own name for the matrix is X
import numpy as np
from sklearn.base import BaseEstimator, ClassifierMixin
from sklearn.utils.multiclass import check_classification_targets
from sklearn.utils.validation import _check_sample_weight, check_is_fitted, validate_data

from diagnose.learning import newton


class PriorLogistic(ClassifierMixin, BaseEstimator):
    """Logistic regression that starts from stated beliefs and forecasts by averaging.

    Parameters
    ----------
    prior_mean : array-like of shape (n_features,) or float, default=0.0
        What each coefficient is believed to be before any data. [log-odds per unit]
    prior_sd : array-like of shape (n_features,) or float, default=1.0
        How surely; smaller is surer. [log-odds per unit], > 0.
    prevalence : float, default=0.1
        Usual share of the second class; the intercept starts where the mean chance over the
        training rows is this. Between 0 and 1.
    intercept_sd : float, default=0.6
        How surely the prevalence is known. [log-odds], > 0.

    Attributes
    ----------
    classes_ : ndarray of shape (2,) or (1,)
    coef_ : ndarray of shape (1, n_features)
    intercept_ : ndarray of shape (1,)
    covariance_ : ndarray of shape (1 + n_features, 1 + n_features)
        Of intercept and coefficients.

    Examples
    --------
    >>> import numpy as np
    >>> X, y = np.array([[0.0], [1.0], [0.0], [1.0]]), np.array([0, 1, 0, 1])
    >>> model = PriorLogistic(prior_mean=1.0, prior_sd=0.5, prevalence=0.5).fit(X, y)
    >>> bool(model.coef_[0, 0] > 1.0)
    True
    """

    def __init__(self, prior_mean=0.0, prior_sd=1.0, prevalence=0.1, intercept_sd=0.6):
        self.prior_mean = prior_mean
        self.prior_sd = prior_sd
        self.prevalence = prevalence
        self.intercept_sd = intercept_sd

    def fit(self, X, y, sample_weight=None):
        """Move the prior as far as the rows give reason to.

        Raises
        ------
        ValueError
            More than two classes.
        """
        X, y = validate_data(self, X, y, dtype=np.float64)
        check_classification_targets(y)
        self.classes_, code = np.unique(y, return_inverse=True)
        if self.classes_.size > 2:
            raise ValueError(
                "Only binary classification is supported. The type of the target is multiclass."
            )
        weight = _check_sample_weight(sample_weight, X, dtype=np.float64)
        mean = np.broadcast_to(np.asarray(self.prior_mean, float), (X.shape[1],))
        sd = np.broadcast_to(np.asarray(self.prior_sd, float), (X.shape[1],))
        start = newton.start_at(X @ mean, self.prevalence, weight)
        fitted = newton.fit(
            np.column_stack([np.ones(len(X)), X]),
            code.astype(float),
            weight,
            np.array([start, *mean]),
            np.array([self.intercept_sd, *sd]),
        )
        self.intercept_, self.coef_ = fitted.b[:1], fitted.b[None, 1:]
        self.covariance_ = fitted.cov
        return self

    def decision_function(self, X):
        """Log-odds of the second class, drawn towards 0 as far as they are uncertain."""
        check_is_fitted(self)
        X = validate_data(self, X, dtype=np.float64, reset=False)
        x = np.column_stack([np.ones(len(X)), X])
        z = x @ np.concatenate([self.intercept_, self.coef_[0]])
        return newton.averaged(z, np.einsum("ij,jk,ik->i", x, self.covariance_, x), 0.5)

    def predict_proba(self, X):
        """Chance of each class, averaged over what the coefficients may be."""
        chance = newton.chance(self.decision_function(X))
        if self.classes_.size == 1:
            return np.ones((chance.size, 1))
        return np.column_stack([1 - chance, chance])

    def predict(self, X):
        """The likelier class."""
        is_second = self.decision_function(X) > 0
        return self.classes_[np.where(is_second, self.classes_.size - 1, 0)]

    def __sklearn_tags__(self):
        """Two classes only."""
        tags = super().__sklearn_tags__()
        tags.classifier_tags.multi_class = False
        return tags
