"""``tiles learn`` on one screen: a line or two for each defect, and where to read on."""

from tiles.cli.learn_text import NEEDS, UNSURE, Found, against, not_learned, worse_on_newest
from tiles.cli.prose import width, wrap
from tiles.cli.same_db import with_db

_ABOVE = f"{'':<17}{'tiles':>5}   {'error against':<26}chance told of"
_HEAD = f"{'fault':<17}{'with':>5}   {'guessing':<13}practice"
_HOW = (
    "Error: how far 'tiles forecast' missed what came on tiles held back from it. Guessing gives "
    "every tile the usual rate; practice: common practice alone."
)
_ON = ("In full: tiles learn --all", "Counts: tiles why --glaze NAME --defect FAULT")


def screen(found: Found) -> list[str]:
    """The defects of which a chance is told as a table, the doubtful last, then the others.

    Parameters
    ----------
    found : Found
        What was learned, and how it was judged.
    """
    from diagnose.forecasts.of_tile import NO_BETTER
    from diagnose.learning.model import LEARNED

    states = found.by_state()
    learned, no_better = states.pop(LEARNED, []), states.pop(NO_BETTER, [])
    lines = wrap(f"{found.counts()}.")
    if learned:
        lines += ["", *([_ABOVE, _HEAD] if _is_wide() else [])]
        sure = [defect for defect in learned if not found.is_unsure(defect)]
        lines += [line for defect in sure for line in _defect(found, defect)]
        unsure = [defect for defect in learned if defect not in sure]
        lines += [f"{UNSURE} of these:"] if unsure else []
        lines += [line for defect in unsure for line in _defect(found, defect)]
    if no_better:
        lines += ["", *wrap(_no_better(found, no_better))]
    lines += not_learned(found, states)
    if learned or no_better:
        lines += ["", *wrap(_HOW), *_read_on()]
    return lines


def _is_wide() -> bool:
    return width() >= NEEDS


def _defect(found: Found, defect: str) -> list[str]:
    from diagnose.learning.report import lessons

    lines = _row(found, defect)
    # What may be luck teaches nothing yet; --all has it.
    for lesson in lessons(found.model, defect, count=0 if found.is_unsure(defect) else 1):
        lines += wrap(f"   {'+' if lesson.move > 0 else '-'} {lesson.said}", " " * 5)
    if early := found.too_early(defect):
        lines += wrap(f"   {early}", "   ")
    for said in worse_on_newest(found.forward.get(defect), by_few=False):
        lines += wrap(f"   {said}", "   ")
    return lines


def _row(found: Found, defect: str) -> list[str]:
    verdict = found.told_by(defect)
    tiles = found.model.learned.defects[defect].seen
    of_guessing, of_practice = against(verdict, "base rate"), against(verdict, "rules alone")
    told = _told_of(found, defect)
    if _is_wide():
        return [f"{defect:<17}{tiles:>5}   {of_guessing:<13}{of_practice:<13}{told}"]
    return wrap(
        f"{defect}, {tiles} with it: error against guessing {of_guessing}, against practice "
        f"{of_practice}; chance told of {told}",
        "   ",
    )


def _told_of(found: Found, defect: str) -> str:
    kept = (found.of_tiles.get(defect), found.of_glazes.get(defect))
    of_met, of_new = (verdict is not None and verdict.beats_base_rate for verdict in kept)
    if of_met and of_new:
        return "any glaze"
    return "glazes with tiles" if of_met else "new glazes only"


def _no_better(found: Found, defects: list[str]) -> str:
    named = found.with_counts(defects)
    return f"Forecast not clearly better than by guessing, so no chance is told yet: {named}."


def _read_on() -> list[str]:
    read_on = list(map(with_db, _ON))
    beside = "    ".join(read_on)
    return [beside] if len(beside) <= width() else read_on
