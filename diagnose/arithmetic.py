"""Every number behind an answer, so that it can be recomputed by hand."""

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.weighing import Argument, Weighed

FORMULA = (
    "log odds = ln(prior) + bonus + for - against + facts + own",
    "for, against = strongest sign + half of the next strongest; further signs add nothing",
    "sign = weight x how far it is met (0 to 1) x trust (1 recorded, 0.6 a note or another tile)",
    "bonus = 0.7 for a cause that could explain every further defect of the tile, a part for some",
    "facts = 0.75 x what its facts do to this fault in general, joined like signs",
    "own = what your own tiles of this glaze, and trials fired for this tile, add",
    "share = exp(log odds) / sum of exp(log odds) over all causes",
)


def arithmetic(case: "Case") -> dict:
    """Priors, signs, log odds and shares of one defect.

    Parameters
    ----------
    case : Case
        The defect as weighed.

    Returns
    -------
    dict
        ``setting`` (which set of priors), ``formula``, ``causes`` (the likeliest first, each with
        ``prior`` [share 0 to 1], ``signs``, ``for``, ``against``, ``bonus``, ``expected``
        (``facts`` in the formula) from ``in_general`` [log-odds], ``own``, ``log_odds``,
        ``exp_log_odds`` and ``share``) and ``sum_exp_log_odds``.
    """
    return {
        "setting": case.setting,
        "formula": list(FORMULA),
        "causes": [_cause(row) for row in case.rows],
        "sum_exp_log_odds": sum(math.exp(row.log_odds) for row in case.rows),
    }


def _cause(row: "Weighed") -> dict:
    return {
        "name": row.name or "other",
        "prior": row.prior,
        "ln_prior": math.log(row.prior),
        "bonus": row.bonus,
        "expected": row.expected,
        "in_general": dict(row.in_general),
        "own": row.own,
        "signs": [
            *[_sign("for", each) for each in row.for_],
            *[_sign("against", each) for each in row.against],
        ],
        "for": row.support,
        "against": row.opposition,
        "log_odds": row.log_odds,
        "exp_log_odds": math.exp(row.log_odds),
        "share": row.share,
    }


def _sign(side: str, each: "Argument") -> dict:
    return {
        "side": side,
        "measure": each.measure.name,
        "value": each.measure.value,
        "unit": each.measure.unit,
        "weight": each.full,
        "grade": each.grade,
        "trust": each.measure.trust,
        "counts": each.weight,
        "from_note": each.measure.note or None,
    }
