"""``tiles learn`` as text and as JSON."""

from dataclasses import asdict, dataclass, field

from tiles.cli.prose import counted, width, wrap

LEAST_SEEN = 3
"""With the defect on fewer held-back areas it is said how few they were."""
NEEDS = 78
"""Columns that a table takes; on a narrower screen its rows are sentences."""
ENOUGH_SEEN, ENOUGH_ERRORS = 8, 2.0
"""A fault on fewer tiles, or a gain of fewer of its own standard errors, may well be luck."""
UNSURE = "Too few tiles to be sure"


@dataclass(frozen=True)
class Found:
    """What was learned, and the verdicts on it by what was held back.

    ``failures_only`` says so where hardly a tile is clean. ``early`` counts the sound tiles that
    were looked at too early to tell of a fault, all sound ones, and from which day on a look tells.
    """

    inspected: int
    model: object
    of_glazes: dict
    of_tiles: dict
    forward: dict
    defects: list[str]
    failures_only: str = ""
    early: dict[str, tuple[int, int, str]] = field(default_factory=dict)

    def judged(self, defect: str) -> dict:
        """The verdicts of a defect by what was held back."""
        each = {"single tiles": self.of_tiles, "whole glazes": self.of_glazes,
                "the newest tiles": self.forward}  # fmt: skip
        return {name: told[defect] for name, told in each.items() if defect in told}

    def state(self, defect: str) -> str:
        """What a forecast says of it: learned, if only for glazes that have tiles, or why not."""
        from diagnose.forecasts.of_tile import state_of

        own = self.model.learned.defects[defect].state
        how = {"is_biased": bool(self.failures_only)}
        of_met = state_of(own, self.of_tiles.get(defect), **how)
        return of_met if of_met == own else state_of(own, self.of_glazes.get(defect), **how)

    def by_state(self) -> dict[str, list[str]]:
        """The defects of each state, what was seen on most tiles first."""
        counts = self.model.learned.defects
        states: dict[str, list[str]] = {}
        for defect in sorted(self.defects, key=lambda each: -counts[each].seen):
            states.setdefault(self.state(defect), []).append(defect)
        return states

    def with_counts(self, defects: list[str]) -> str:
        """Defects, each with how many tiles have it."""
        seen = self.model.learned.defects
        return ", ".join(f"{each} ({seen[each].seen})" for each in defects)

    def told_by(self, defect: str):
        """The verdict by which a chance is told: of glazes that have tiles, else of new ones."""
        kept = [each[defect] for each in (self.of_tiles, self.of_glazes) if defect in each]
        return next((each for each in kept if each.beats_base_rate), kept[0])

    def is_unsure(self, defect: str) -> bool:
        """Whether what was learned of it rests on so few tiles that it may well be luck."""
        seen = self.model.learned.defects[defect].seen
        return seen < ENOUGH_SEEN or self.told_by(defect).standard_errors < ENOUGH_ERRORS

    def too_early(self, defect: str) -> str:
        """That most sound tiles could not tell of a fault that comes late; empty for others."""
        early, sound, tells_from = self.early.get(defect, (0, 0, ""))
        if 2 * early <= sound:
            return ""
        were = "was" if early == 1 else "were"
        return (
            f"{early} of {counted(sound, 'sound tile')} {were} looked at too early to tell (a look "
            f"tells from {tells_from} days on): chances may be too small"
        )

    def counts(self) -> str:
        """Of how many tiles and glazes was learned."""
        glazes = counted(len(self.model.learned.glazes), "glaze")
        note = f". {self.failures_only}".removesuffix(".") if self.failures_only else ""
        return f"{counted(self.inspected, 'inspected tile')}, {glazes}{note}"


def as_dict(found: Found) -> dict:
    """The documented JSON shape."""
    from diagnose.learning.model import LEARNED
    from diagnose.learning.report import lessons

    told = []
    for defect in found.defects:
        model = found.model.learned.defects[defect]
        told.append(
            {
                "defect": defect,
                "state": found.state(defect),
                "inspected": model.inspected,
                "seen": model.seen,
                "sound_too_early": found.early.get(defect, (0,))[0],
                "tiles_kept_apart": _judgement(found.of_tiles.get(defect)),
                "glazes_kept_apart": _judgement(found.of_glazes.get(defect)),
                "forward_in_time": _judgement(found.forward.get(defect)),
                "lessons": [asdict(each) for each in lessons(found.model, defect)]
                if model.state == LEARNED
                else [],
            }
        )
    return {
        "inspected_tiles": found.inspected,
        "failures_only": bool(found.failures_only),
        "defects": told,
    }


def _judgement(verdict) -> dict | None:
    """As documented: there ``learned`` says whether the forecasts were of use."""
    return verdict and asdict(verdict) | {"learned": verdict.beats_base_rate}


def in_full(found: Found) -> list[str]:
    """Each defect that was learned with every way it was judged, then the others in one breath."""
    from diagnose.forecasts.of_tile import NO_BETTER
    from diagnose.learning.model import LEARNED

    states = found.by_state()
    lines = wrap(f"{found.counts()}.")
    was_judged = LEARNED in states or NO_BETTER in states
    for defect in states.pop(LEARNED, []):
        lines += ["", *_learned(found, defect)]
    for defect in states.pop(NO_BETTER, []):
        lines += ["", *_no_better(found, defect)]
    lines += not_learned(found, states)
    return [*lines, *(["", *wrap(_HOW)] if was_judged else [])]


_HOW = (
    "How this was judged: tiles were held back and forecast from the others. Single tiles judge "
    "what is told of glazes that have tiles already, whole glazes what is told of a new one. "
    "Error: how far the chances missed what came; a sure forecast that fails counts most. Guessing "
    "gives every tile the usual rate; practice is common practice alone at such a rate. Off by 9: "
    "where 20 in 100 were told, 11 or 29 came, or the like. Ask for a tile: 'tiles forecast'."
)
_HEAD = f"   {'error against':<18}{'guessing':>10}{'practice':>12}{'off by':>10}"


def _learned(found: Found, defect: str) -> list[str]:
    from diagnose.learning.report import lessons

    model, judged = found.model.learned.defects[defect], found.judged(defect)
    lines = [f"{defect.upper()}, on {model.seen} of {model.inspected} tiles"]
    if judged:
        lines += _table(judged)
        lines += wrap(f"   {_in_words(found, defect)}", "   ")
    lines += wrap(f"   {said}.", "   ") if (said := found.too_early(defect)) else []
    told = lessons(found.model, defect)
    for at, lesson in enumerate(told):
        sign = "+" if lesson.move > 0 else "-"
        lines += wrap(f"   {'learned' if not at else '       '} {sign} {lesson.said}", " " * 13)
    return lines if told else [*lines, "   learned   nothing that common practice had not said"]


def _table(judged: dict) -> list[str]:
    if width() < NEEDS:
        return [line for each in judged.items() for line in wrap(f"   {_sentence(*each)}", "     ")]
    return [_HEAD, *(_row(name, verdict) for name, verdict in judged.items())]


def _row(name: str, verdict) -> str:
    errors = f"{against(verdict, 'base rate'):>10}{against(verdict, 'rules alone'):>12}"
    few = f"  {_few(verdict)}" if _few(verdict) else ""
    return f"   {name:<18}{errors}{100 * verdict.calibration:>10.0f}{few}"


def _sentence(name: str, verdict) -> str:
    few = f"; {_few(verdict)}" if _few(verdict) else ""
    return (
        f"{name} held back: error against guessing {against(verdict, 'base rate')}, against "
        f"practice {against(verdict, 'rules alone')}; off by {100 * verdict.calibration:.0f}{few}."
    )


def against(verdict, yardstick: str) -> str:
    """How much less, or more, the forecasts missed than another way to forecast."""
    gain = _gain(verdict, yardstick)
    return f"{abs(gain):.0%} {'less' if gain > 0 else 'more'}" if gain else "the same"


def _gain(verdict, yardstick: str) -> float:
    """Share of the error of a yardstick that is taken away; 0 where that may be luck."""
    from diagnose.learning.validate import LEAST_GAIN

    gain = 1 - verdict.log_loss["model"] / verdict.log_loss[yardstick]
    return gain if abs(gain) >= LEAST_GAIN else 0.0


def _few(verdict) -> str:
    """That too few had it to judge by; empty where enough had it."""
    seen = f"only {verdict.seen}" if verdict.seen else "none"
    return f"{seen} of {verdict.areas} areas had it" if verdict.seen < LEAST_SEEN else ""


def _in_words(found: Found, defect: str) -> str:
    """Against common practice, for which tiles no chance is told, and how the newest fared."""
    of_tiles, of_glazes = found.of_tiles.get(defect), found.of_glazes.get(defect)
    first = found.told_by(defect)
    said = [f"{'Better' if first.beats_rules else 'No better'} than common practice alone."]
    said += [f"{UNSURE}."] if found.is_unsure(defect) else []
    for verdict, of in ((of_tiles, "glazes that have tiles"), (of_glazes, "a new glaze")):
        if verdict is not None and not verdict.beats_base_rate:
            said.append(f"Not clearly better than guessing for {of}: no chance is told there.")
    return " ".join([*said, *worse_on_newest(found.forward.get(defect))])


def worse_on_newest(verdict, *, by_few: bool = True) -> list[str]:
    """What a worse forecast of the newest tiles is worth; nothing where it was no worse.

    ``by_few``: also say so where they are too few to judge by.
    """
    from diagnose.wording import listed

    if verdict is None:
        return []
    yardsticks = {"guessing": "base rate", "common practice": "rules alone"}
    worse = [name for name, yardstick in yardsticks.items() if _gain(verdict, yardstick) < 0]
    if worse and _few(verdict):
        return [f"The newest tiles cannot judge it: {_few(verdict)}."] if by_few else []
    return [f"Worse than {listed(worse)} on the newest tiles: trust it less."] if worse else []


def _no_better(found: Found, defect: str) -> list[str]:
    model = found.model.learned.defects[defect]
    loss = (found.of_tiles.get(defect) or found.of_glazes[defect]).log_loss
    rules = "" if loss["rules alone"] >= loss["base rate"] else " Common practice alone was better."
    return [
        f"{defect.upper()}, on {model.seen} of {model.inspected} tiles",
        *wrap(
            "   Held-back tiles were forecast not clearly better than by guessing, so no chance is "
            f"told yet.{rules}",
            "   ",
        ),
    ]


def not_learned(found: Found, states: dict[str, list[str]]) -> list[str]:
    """Paragraphs on the defects of which no chance is told, one for each reason."""
    return [
        line
        for state, defects in states.items()
        for why, of_why in _by_reason(found, state, defects).items()
        for line in ["", *_not_learned(found, why, of_why)]
    ]


def _by_reason(found: Found, state: str, defects: list[str]) -> dict[str, list[str]]:
    from tiles.cli.forecast_untold import reason

    told: dict[str, list[str]] = {}
    for defect in defects:
        model = found.model.learned.defects[defect]
        told.setdefault(reason(state, model.seen, model.inspected), []).append(defect)
    return told


def _not_learned(found: Found, why: str, defects: list[str]) -> list[str]:
    named = found.with_counts(defects)
    return wrap(f"Not learned, {why}: {named}. Common practice alone speaks.")
