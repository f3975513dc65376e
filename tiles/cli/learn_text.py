"""``tiles learn`` as text and as JSON."""

from dataclasses import asdict, dataclass

from tiles.cli.prose import width, wrap

LEAST_SEEN = 3
"""With the defect on fewer held-back areas no share of surprise is told."""


@dataclass(frozen=True)
class Found:
    """What was learned, and both ways of judging it."""

    inspected: int
    model: object
    verdicts: dict
    of_tiles: dict
    forward: dict
    defects: list[str]

    def judged(self, defect: str) -> dict:
        """The verdicts of a defect by what was held back."""
        each = {"single tiles": self.of_tiles, "whole glazes": self.verdicts,
                "the newest tiles": self.forward}  # fmt: skip
        return {name: told[defect] for name, told in each.items() if defect in told}

    def state(self, defect: str) -> str:
        """What a forecast says of it: learned, if only for glazes that have tiles, or why not."""
        from diagnose.forecast import state_of

        own = self.model.learned.defects[defect].state
        of_met = state_of(own, self.of_tiles.get(defect))
        return of_met if of_met == own else state_of(own, self.verdicts.get(defect))


def as_dict(found: Found) -> dict:
    """The documented JSON shape."""
    from diagnose.learning_report import lessons

    told = []
    for defect in found.defects:
        model, verdict = found.model.learned.defects[defect], found.verdicts.get(defect)
        of_tiles, forward = found.of_tiles.get(defect), found.forward.get(defect)
        told.append(
            {
                "defect": defect,
                "state": found.state(defect),
                "inspected": model.inspected,
                "seen": model.seen,
                "tiles_kept_apart": of_tiles and asdict(of_tiles),
                "glazes_kept_apart": verdict and asdict(verdict),
                "forward_in_time": forward and asdict(forward),
                "lessons": [asdict(each) for each in lessons(found.model, defect)]
                if model.state == "learned"
                else [],
            }
        )
    return {"inspected_tiles": found.inspected, "defects": told}


def screen(found: Found) -> list[str]:
    """What a person reads: the defects that were learned, then the others in one breath each."""
    from diagnose.forecast import NO_BETTER
    from diagnose.learning.model import LEARNED
    from tiles.cli.prose import counted

    learned = found.model.learned
    states: dict[str, list[str]] = {}
    for defect in found.defects:
        states.setdefault(found.state(defect), []).append(defect)
    lines = wrap(f"{counted(found.inspected, 'inspected tile')}, "
                 f"{counted(len(learned.glazes), 'glaze')}.")  # fmt: skip
    was_judged = LEARNED in states or NO_BETTER in states
    for defect in sorted(states.pop(LEARNED, []), key=lambda d: -learned.defects[d].seen):
        lines += ["", *_learned(found, defect)]
    for defect in states.pop(NO_BETTER, []):
        lines += ["", *_no_better(found, defect)]
    for state, defects in states.items():
        for why, of_why in _by_reason(found, state, defects).items():
            lines += ["", *_not_learned(found, why, of_why)]
    return [*lines, *(["", *wrap(_HOW)] if was_judged else [])]


_HOW = (
    "How this was judged: tiles were held back and forecast from the others. Single tiles judge "
    "what is told of glazes that have tiles already, whole glazes what is told of a new one. "
    "Surprise is the log-loss: less is better. Guessing gives every tile the rate of those it was "
    "learned from, practice is common practice alone at that rate; off by: how far the chances lay "
    "from what came, in points of 100. Ask for a tile: 'tiles forecast'."
)
_HEAD = f"   {'held back':<17}{'surprise':>8}{'guessing':>10}{'practice':>10}{'off by':>8}"
_NEEDS = 78
"""Columns that the table takes; on a narrower screen its rows are sentences."""


def _learned(found: Found, defect: str) -> list[str]:
    from diagnose.learning_report import lessons

    model, judged = found.model.learned.defects[defect], found.judged(defect)
    lines = [f"{defect.upper()}, on {model.seen} of {model.inspected} tiles"]
    if judged:
        lines += _table(judged)
        lines += wrap(f"   {_in_words(found, defect)}", "   ")
    told = lessons(found.model, defect)
    for at, lesson in enumerate(told):
        sign = "+" if lesson.move > 0 else "-"
        lines += wrap(f"   {'learned' if not at else '       '} {sign} {lesson.said}", " " * 13)
    return lines if told else [*lines, "   learned   nothing that common practice had not said"]


def _table(judged: dict) -> list[str]:
    if width() < _NEEDS:
        return [line for each in judged.items() for line in wrap(f"   {_sentence(*each)}", "     ")]
    return [_HEAD, *(_row(name, verdict) for name, verdict in judged.items())]


def _row(name: str, verdict) -> str:
    loss = verdict.log_loss
    numbers = f"{loss['model']:>8.3f}{loss['base rate']:>10.3f}{loss['rules alone']:>10.3f}"
    return f"   {name:<17}{numbers}{100 * verdict.calibration:>8.0f}  {_gain(verdict)}"


def _sentence(name: str, verdict) -> str:
    loss = verdict.log_loss
    return (
        f"{name} held back: {_gain(verdict)}; surprise {loss['model']:.3f}, guessing "
        f"{loss['base rate']:.3f}, practice {loss['rules alone']:.3f}, off by "
        f"{100 * verdict.calibration:.0f}."
    )


def _gain(verdict) -> str:
    from diagnose.learning.validate import LEAST_GAIN

    if verdict.seen < LEAST_SEEN:
        return f"{verdict.seen} of {verdict.areas} areas only"
    if abs(verdict.gain) < LEAST_GAIN:
        return "about as guessing"
    return f"{abs(verdict.gain):.0%} {'less' if verdict.gain > 0 else 'more'} surprise"


def _in_words(found: Found, defect: str) -> str:
    """Against common practice, and for which tiles no chance is told."""
    of_tiles, of_glazes = found.of_tiles.get(defect), found.verdicts.get(defect)
    first = of_tiles or of_glazes
    said = [f"{'Better' if first.beats_rules else 'No better'} than common practice alone."]
    for verdict, of in ((of_tiles, "glazes that have tiles"), (of_glazes, "a new glaze")):
        if verdict is not None and not verdict.beats_base_rate:
            said.append(f"No better than guessing for {of}: no chance is told there.")
    return " ".join(said)


def _no_better(found: Found, defect: str) -> list[str]:
    model = found.model.learned.defects[defect]
    loss = (found.of_tiles.get(defect) or found.verdicts[defect]).log_loss
    rules = "" if loss["rules alone"] >= loss["base rate"] else " Common practice alone was better."
    return [
        f"{defect.upper()}, on {model.seen} of {model.inspected} tiles",
        *wrap(
            "   Held-back tiles were forecast no better than by guessing, so no chance is told "
            f"yet.{rules}",
            "   ",
        ),
    ]


def _by_reason(found: Found, state: str, defects: list[str]) -> dict[str, list[str]]:
    from tiles.cli.forecast_text import reason

    told: dict[str, list[str]] = {}
    for defect in defects:
        model = found.model.learned.defects[defect]
        told.setdefault(reason(state, model.seen, model.inspected), []).append(defect)
    return told


def _not_learned(found: Found, why: str, defects: list[str]) -> list[str]:
    counted = [f"{each} ({found.model.learned.defects[each].seen})" for each in defects]
    return wrap(f"Not learned, {why}: {', '.join(counted)}. Common practice alone speaks.")
