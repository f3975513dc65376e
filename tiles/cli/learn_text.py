"""``tiles learn`` as text and as JSON."""

from dataclasses import asdict, dataclass

from tiles.cli.prose import wrap

LEAST_GAIN = 0.02
"""A smaller share of surprise taken away is called about the same."""


@dataclass(frozen=True)
class Found:
    """What was learned, and both ways of judging it."""

    inspected: int
    model: object
    verdicts: dict
    forward: dict
    defects: list[str]


def as_dict(found: Found) -> dict:
    """The documented JSON shape."""
    from diagnose.forecast import state_of
    from diagnose.learning_report import lessons

    told = []
    for defect in found.defects:
        model, verdict = found.model.learned.defects[defect], found.verdicts.get(defect)
        forward = found.forward.get(defect)
        told.append(
            {
                "defect": defect,
                "state": state_of(model.state, verdict),
                "inspected": model.inspected,
                "seen": model.seen,
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
    from diagnose.forecast import NO_BETTER, state_of
    from diagnose.learning.model import LEARNED

    learned = found.model.learned
    states: dict[str, list[str]] = {}
    for defect in found.defects:
        state = state_of(learned.defects[defect].state, found.verdicts.get(defect))
        states.setdefault(state, []).append(defect)
    glazes = len(learned.glazes)
    lines = wrap(f"{found.inspected} inspected tiles, {glazes} glazes.")
    for defect in sorted(states.pop(LEARNED, []), key=lambda d: -learned.defects[d].seen):
        lines += ["", *_learned(found, defect)]
    for defect in states.pop(NO_BETTER, []):
        lines += ["", *_no_better(found, defect)]
    for state, defects in states.items():
        lines += ["", *_not_learned(found, state, defects)]
    return [*lines, "", *wrap(_HOW)]


_HOW = (
    "How this was judged: all tiles of some glazes were held back and forecast from the others, "
    "in turn. Surprise is the log-loss: less is better, guessing your usual rate is the measure. "
    "Ask for a tile: 'tiles forecast'."
)


def _learned(found: Found, defect: str) -> list[str]:
    from diagnose.learning_report import lessons

    model, verdict = found.model.learned.defects[defect], found.verdicts.get(defect)
    lines = [f"{defect.upper()}, on {model.seen} of {model.inspected} tiles"]
    if verdict is not None:
        lines += wrap(f"   {_judged(verdict)}", "   ")
    if forward := found.forward.get(defect):
        lines += wrap(f"   Newest tiles, forecast from the older ones: {_gain(forward)}.", "   ")
    told = lessons(found.model, defect)
    for at, lesson in enumerate(told):
        sign = "+" if lesson.move > 0 else "-"
        lines += wrap(f"   {'learned' if not at else '       '} {sign} {lesson.said}", " " * 13)
    return lines if told else [*lines, "   learned   nothing that common practice had not said"]


def _judged(verdict) -> str:
    loss = verdict.log_loss
    others = "better" if verdict.beats_rules else "no better"
    return (
        f"Glazes it had not seen: {_gain(verdict)}, {others} than common practice alone "
        f"(surprise {loss['model']:.3f}; guessing {loss['base rate']:.3f}, common practice "
        f"{loss['rules alone']:.3f}). Chances were off by "
        f"{100 * verdict.calibration:.0f} points in 100 on average."
    )


def _gain(verdict) -> str:
    gain = 1 - verdict.log_loss["model"] / verdict.log_loss["base rate"]
    if gain < -LEAST_GAIN:
        return f"{-gain:.0%} more surprise than guessing"
    if gain < LEAST_GAIN:
        return "about as much surprise as guessing"
    return f"{gain:.0%} less surprise than guessing"


def _no_better(found: Found, defect: str) -> list[str]:
    model = found.model.learned.defects[defect]
    loss = found.verdicts[defect].log_loss
    rules = "" if loss["rules alone"] >= loss["base rate"] else " Common practice alone was better."
    return [
        f"{defect.upper()}, on {model.seen} of {model.inspected} tiles",
        *wrap(
            "   Held-back tiles were forecast no better than by guessing, so no chance is told "
            f"yet.{rules}",
            "   ",
        ),
    ]


def _not_learned(found: Found, state: str, defects: list[str]) -> list[str]:
    from tiles.cli.forecast_text import STATES

    counted = [f"{each} ({found.model.learned.defects[each].seen})" for each in defects]
    said = ", ".join(counted)
    return wrap(f"Not learned, {STATES[state]}: {said}. Common practice alone speaks.")
