"""What own tiles say against a cause: told wherever it is acted on, and never weighed."""

from typing import TYPE_CHECKING

from diagnose.curves import COAT
from diagnose.fixes.shapes import COATS, DRY_COAT
from diagnose.own_tiles.twins import speaking_against
from diagnose.wording import sentence

if TYPE_CHECKING:
    from diagnose.case import Case
    from diagnose.fixes.shapes import Change
    from diagnose.next_tiles.changes import Candidate

MOST = 0.5
"""Where own tiles speak against more than this of what a change is for, they do so against it."""


def spoken_against(case: "Case", name: str) -> list[str]:
    """The counts that lie the other way round, then the sound twins made further from its remedy.

    It came where there was less, of what would be too much; or did not come where there was more.

    Parameters
    ----------
    case : Case
        With what own tiles say, and its twins.
    name : str
        Of the cause; "other" for one that is not in the list, against which nothing is said.
    """
    row = next((row for row in case.rows if row.cause and row.name == name), None)
    if row is None:
        return []
    counts = [sentence(each.say) for each in case.own.against(row)] if case.own else []
    return [*counts, *(each.say for each in speaking_against(case, row.cause))]


def goes_against(case: "Case", candidate: "Candidate") -> bool:
    """Whether a change is for causes, most of them by share, against which own tiles speak.

    Or takes the coat further to where they failed.
    """
    acts = candidate.acts_on | candidate.eases
    shares = {row.name: row.share for row in case.rows if row.cause and row.name in acts}
    against = sum(share for name, share in shares.items() if spoken_against(case, name))
    return against > MOST * sum(shares.values()) or _goes_on(case, candidate.step.changes[0])


def _goes_on(case: "Case", change: "Change") -> bool:
    if change.what not in (COATS, DRY_COAT) or not case.own:
        return False
    of_coat = (each for each in case.own.lessons if each.measure in COAT and each.lift > 0)
    return any(each.is_more is (change.after > change.before) for each in of_coat)
