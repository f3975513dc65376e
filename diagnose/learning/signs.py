"""The rule base as numbers: how far every sign is met on every row, and what follows from it.

For one defect and one row the hazard that the rules see is::

    hazard = mean over draws of  sum over causes of  share * exp(support - opposition)

with shares, support and opposition as in ``diagnose.weighing``. Half of its logarithm is one part
of the evidence: 0 where the record says nothing. The other part adds up what each measure says for
the cause it fits best, whatever the share of that cause, a quarter of it (half for the coat): dust
and a thick coat together are worse than either, and a rare cause that was seen is no longer rare.
The share of one cause in the hazard says how much of the evidence is that cause's. Left out are
signs that only the finished fault can tell, and causes that say it is no fault, or another one:
they explain what was written down, not what will happen.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from diagnose.curves import COAT, COAT_AS_ONE
from diagnose.learning.table import may_forecast

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.blanks import Drawn
    from diagnose.rules import Cause, RuleBook, Sign


HAZARD, EACH_MEASURE, MOST_A_MEASURE = 0.5, 0.25, 2.0
"""Parts of the evidence, and the most that one measure may say in the second (estimates)."""
SAYS_ALONE = {
    COAT_AS_ONE: 0.5,
    "colour_coats_beneath": 0.5,
    "set_over_label": 0.1,
    "dry_portion": 0.1,
}
"""Measures with another part than ``EACH_MEASURE``. How thick the coat is and what lies under it
differ from tile to tile and bear on most faults. What a firing was set for counts little beside
what it reached, and a part of a bag may still be well mixed (estimates)."""
OFF_TARGET, OFF_TARGET_BESIDE_LABEL = "cones_over_target", 0.3
"""A glaze does not know what the kiln was set for: where its label is on record, the cones over the
label tell nearly all, and those over the target count this much (an estimate)."""


@dataclass
class Evidence:
    """What the rules make of n rows for one defect.

    ``log_hazard`` : shape (n,), the two parts together, 0 where nothing speaks;
    ``responsible`` : shape (n, causes), share of each cause in the hazard; ``causes`` their names;
    ``signs`` : shape (n, signs), each met from 0 to 1, on average over the draws; ``keys`` name the
    signs and ``owners`` the causes of each; ``wanted`` : shape (n,), log-odds that the look is by
    design.
    """

    log_hazard: "np.ndarray"
    responsible: "np.ndarray"
    causes: tuple[str, ...]
    signs: "np.ndarray"
    keys: tuple[str, ...]
    owners: tuple[tuple[str, ...], ...]
    wanted: "np.ndarray"


def evaluate(rulebook: "RuleBook", drawn: "Drawn") -> Evidence:
    """Weigh every row of a table.

    Parameters
    ----------
    rulebook : RuleBook
        Causes of one defect.
    drawn : Drawn
        The rows with their blanks filled.
    """
    import numpy as np

    causes = [cause for cause in rulebook.causes if cause.is_fault and not cause.right_name]
    shares = _shares(rulebook, causes, drawn)
    hazards, signs = [], _Signs(drawn)
    alone: dict[str, np.ndarray] = {}
    nothing = np.zeros((1, drawn.n))
    for cause, share in zip(causes, shares, strict=False):
        met = _by_measure(cause, signs)
        hazards.append(share[None, :] * np.exp(_net(_joined(met))))
        for measure, weights in _by_argument(met).items():
            alone[measure] = np.maximum(alone.get(measure, nothing), _net(weights))
    hazards.append(np.repeat(shares[-1][None, :], hazards[0].shape[0], axis=0))
    wanted = _by_design(rulebook, drawn)
    by_cause = np.array([hazard.mean(axis=0) for hazard in hazards])
    whole = by_cause.sum(axis=0)
    added = sum(
        (
            SAYS_ALONE.get(measure, EACH_MEASURE) * said.clip(max=MOST_A_MEASURE).mean(axis=0)
            for measure, said in alone.items()
        ),
        nothing[0],
    )
    return Evidence(
        HAZARD * np.log(whole) + added,
        (by_cause / whole)[:-1].T,
        tuple(cause.name for cause in causes),
        signs.matrix(),
        tuple(signs.met),
        tuple(tuple(sorted(owners)) for owners in signs.owners.values()),
        wanted,
    )


def _by_design(rulebook: "RuleBook", drawn: "Drawn") -> "np.ndarray":
    """How strongly the record says that the look is wanted: a matt glaze is no unwanted matt.

    Below 0 where it says that it is not: only a glaze meant to shine can be matt against its will.
    What comes with the role of a layer was not chosen: the dull skin of a bare underglaze is
    written down like any other.
    """
    import numpy as np

    signs, wanted = _Signs(drawn), None
    for cause in rulebook.causes:
        if not cause.is_fault:
            here = np.zeros((1, drawn.n)) + _net(_joined(_by_measure(cause, signs)))
            role = _role_it_comes_with(cause)
            if role is not None and role.measure in drawn.words:  # as if the layer were another
                has_it = drawn.holds(role.measure, role.counts_if) > 0
                here = np.where(has_it, -role.weight_against, here)
            wanted = here if wanted is None else np.maximum(wanted, here)
    return np.zeros(drawn.n) if wanted is None else wanted.mean(axis=0)


def _role_it_comes_with(cause: "Cause") -> "Sign | None":
    """The sign by which the look comes with what the layer is, whatever glaze was chosen."""
    return next((sign for sign in cause.signs if sign.measure == "role" and sign.weight_for), None)


def _shares(rulebook: "RuleBook", causes: list, drawn: "Drawn") -> list:
    """Prior share of each cause on each row, the unlisted one last."""
    import numpy as np

    from diagnose.weighing import prior_of

    names, which = np.unique(drawn.setting.astype(str), return_inverse=True)
    priors = [*(cause.prior for cause in causes), rulebook.other_prior]
    table = np.array([[prior_of(prior, name) for name in names] for prior in priors])
    return list((table / table.sum(axis=0))[:, which])


def _by_measure(cause: "Cause", signs: "_Signs") -> dict[str, tuple[list, list]]:
    """Weights for and against the cause that each measure gives."""
    found: dict[str, tuple[list, list]] = {}
    for sign in cause.signs:
        if not may_forecast(sign.measure):
            continue
        met = signs.of(sign, cause.name)
        if met is None:
            continue
        for_, against = found.setdefault(sign.measure, ([], []))
        if sign.weight_for and met[0] is not None:
            for_.append(sign.weight_for * met[0])
        if sign.weight_against and met[1] is not None:
            against.append(sign.weight_against * met[1])
    return found


def _by_argument(met: dict[str, tuple[list, list]]) -> dict[str, tuple[list, list]]:
    """The weights of each measure, those that tell the same thing together."""
    found: dict[str, tuple[list, list]] = {}
    for measure, (for_, against) in met.items():
        joined = found.setdefault(COAT_AS_ONE if measure in COAT else measure, ([], []))
        joined[0].extend(for_)
        joined[1].extend(against)
    return found


def _joined(met: dict[str, tuple[list, list]]) -> tuple[list, list]:
    return ([each for for_, _ in met.values() for each in for_],
            [each for _, against in met.values() for each in against])  # fmt: skip


def _net(weights: tuple[list, list]):
    """Support less opposition, log-odds."""
    return _combined(weights[0]) - _combined(weights[1])


def _combined(weights: list):
    """The strongest in full and half of the next, as in ``diagnose.weighing.combine``."""
    import numpy as np

    if not weights:
        return 0.0
    first = second = np.zeros_like(weights[0])
    for weight in weights:
        second = np.maximum(second, np.minimum(first, weight))
        first = np.maximum(first, weight)
    return first + 0.5 * second


class _Signs:
    """How far signs are met, each different one worked out once."""

    def __init__(self, drawn: "Drawn"):
        self.drawn = drawn
        self.met: dict[str, np.ndarray] = {}
        self.owners: dict[str, set[str]] = {}

    def of(self, sign: "Sign", cause: str) -> tuple | None:
        """Strength for and against, shape (draws, n) each; None where it cannot be told."""
        applies = self._applies(sign)
        for_ = self._graded(sign, cause, "for", applies)
        better = [self.drawn.recorded[m] for m in sign.against_unless if m in self.drawn.recorded]
        against = self._graded(sign, cause, "against", applies, better)
        return None if for_ is None and against is None else (for_, against)

    def matrix(self) -> "np.ndarray":
        """Every sign's mean over the draws, shape (n, signs)."""
        import numpy as np

        if not self.met:
            return np.zeros((self.drawn.n, 0))
        return np.array([grade.mean(axis=0) for grade in self.met.values()]).T

    def _graded(self, sign: "Sign", cause: str, side: str, applies, better=()):
        import numpy as np

        words, start, full = (
            (sign.counts_if, sign.counts_from, sign.counts_fully)
            if side == "for"
            else (sign.against_if, sign.against_from, sign.against_fully)
        )
        if not words and (start is None or full is None):
            return None
        only = ";".join(f"{k}={','.join(v)}" for k, v in sorted(sign.only.items()))
        unless = ",".join(sign.against_unless) if side == "against" else ""
        key = f"{sign.measure}|{','.join(words)}|{start}|{full}|{only}|{unless}"
        if key not in self.met:
            grade = self._strength(sign.measure, words, start, full)
            if grade is None:
                return None
            if applies is not None:
                grade = grade * applies
            if sign.measure == OFF_TARGET:
                grade = grade * np.where(self.drawn.label_known, OFF_TARGET_BESIDE_LABEL, 1.0)
            for known in better:
                grade = grade * ~known
            self.met[key] = np.asarray(grade, float)
        self.owners.setdefault(key, set()).add(cause)
        return self.met[key]

    def _strength(self, measure: str, words: tuple, start, full):
        import numpy as np

        if measure in self.drawn.numbers and start is not None and full is not None:
            values = self.drawn.numbers[measure]
            if start == full:
                return (values >= full).astype(float)
            grade = np.clip((values - start) / (full - start), 0.0, 1.0)
            return np.nan_to_num(grade)
        if measure in self.drawn.words and words:
            return self.drawn.holds(measure, words)
        return None

    def _applies(self, sign: "Sign"):
        """1 where the sign's conditions hold, or None where it has none."""
        import numpy as np

        holds = None
        for key, words in sign.only.items():
            name = key.removeprefix("not_")
            if name == "setting":
                met = np.isin(self.drawn.setting.astype(str), words)[None, :]
            elif name in self.drawn.words:
                met = self.drawn.holds(name, words) > 0
            else:
                met = np.zeros((1, self.drawn.n), bool)
            met = met != key.startswith("not_")
            holds = met if holds is None else holds & met
        return holds
