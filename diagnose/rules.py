"""The cause files, read one defect at a time and checked."""

from dataclasses import dataclass, field, replace
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from diagnose.fixes.shapes import ADVISED

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from diagnose.measures.of_area import Measure

MISNAMED = "_misnamed"
"""A cause of this ending says: it is another fault. Its stem, or ``instead``, is the right name."""
NAMED_WEIGHT = 5.0
"""What a word for another fault weighs against a cause [log-odds]: the look that separates two."""
_RIGHT_NAMES = {
    "dunt": "dunting",
    "grains": "specks",
    "missed glaze": "other",
    "drying crack": "other",
    "scratches": "other",
}


@dataclass(frozen=True)
class Sign:
    """One clue or measure that speaks for or against one cause. See ``causes/README.md``.

    ``names_another`` is made here: what is written of the tile is the fault of another cause.
    """

    measure: str
    weight_for: float = 0.0
    weight_against: float = 0.0
    counts_from: float | None = None
    counts_fully: float | None = None
    against_from: float | None = None
    against_fully: float | None = None
    counts_if: tuple[str, ...] = ()
    against_if: tuple[str, ...] = ()
    usual: str = ""
    because: str = ""
    only: dict[str, tuple[str, ...]] = field(default_factory=dict)
    against_unless: tuple[str, ...] = ()
    tag: str = "estimate"
    source: str = "common practice"
    names_it: bool = False
    names_another: bool = False


@dataclass(frozen=True)
class Advice:
    """What to do about a cause, or to be sure of it; the marks tell where it is left out.

    ``changes`` names what a trial of it changes: it is not advised again once that was in vain.
    ``to_the_label``: it fires this glaze on this clay again, or to the cone of its label, where a
    clay of another range melts, or the glaze runs off. ``aim`` names measures with the range, or
    the words, that it aims at: where the tile lies there already it is no advice.
    """

    say: str
    changes: tuple[str, ...] = ()
    to_the_label: bool = False
    aim: dict[str, tuple[float, float] | tuple[str, ...]] = field(default_factory=dict)

    def is_met(self, facts: "Mapping[str, Measure]") -> bool:
        """Whether the tile has what it aims at already, as far as that is recorded."""
        known = [(aim, facts[name].value) for name, aim in self.aim.items() if name in facts]
        return bool(known) and all(
            value in aim if isinstance(value, str) else aim[0] <= value <= aim[1]
            for aim, value in known
        )


@dataclass(frozen=True)
class Cause:
    """One possible cause of a defect, with all a reader needs to test it and act on it."""

    name: str
    title: str
    mechanism: str
    prior: dict[str, float]
    who_can_act: tuple[str, ...]
    signs: tuple[Sign, ...]
    looks_like: tuple[str, ...] = ()
    confirm: tuple[Advice, ...] = ()
    fixes: tuple[Advice, ...] = ()
    cautions: tuple[str, ...] = ()
    basis: str = "common practice"
    is_fault: bool = True
    instead: str = ""
    lies_in: tuple[str, ...] = ()

    @property
    def seats(self) -> tuple[str, ...]:
        """Where it lies, and so what must be changed to be rid of it."""
        return self.lies_in or self.who_can_act

    def more_of(self, measure: str) -> bool | None:
        """Whether more of a measure speaks for it, and not less; None where neither does."""
        rises = {
            each.counts_fully > each.counts_from
            for each in self.signs
            if each.measure == measure and each.counts_from is not None
        }
        return rises.pop() if len(rises) == 1 else None

    @property
    def right_name(self) -> str:
        """The defect this really is, where the cause says that the fault was misnamed; else ""."""
        if self.instead or not self.name.endswith(MISNAMED):
            return self.instead
        stem = self.name.removesuffix(MISNAMED).replace("_", " ")
        return _RIGHT_NAMES.get(stem, stem)


@dataclass(frozen=True)
class RuleBook:
    """All causes of one defect, and the share left for what is not in the list."""

    defect: str
    causes: tuple[Cause, ...]
    other_prior: dict[str, float]


@cache
def load(defect: str) -> RuleBook:
    """The rule book of one defect, from ``causes/<defect>.toml``.

    Raises
    ------
    FileNotFoundError
        It is no word of the defect list.
    ValueError
        The file marks advice with what is no change of a trial.
    """
    import tomllib

    file = files("diagnose").joinpath("causes", f"{defect.replace(' ', '_')}.toml")
    table = tomllib.loads(file.read_text(encoding="utf-8"))
    causes = [_cause(entry) for entry in table["cause"]]
    causes = tuple(replace(each, signs=_with_names(each, causes)) for each in causes)
    return RuleBook(table["defect"], causes, table["other_prior"])


def _with_names(cause: Cause, causes: "Sequence[Cause]") -> tuple[Sign, ...]:
    """The signs of a cause, with one against it for each word that names a fault of others.

    It speaks where none of its own words was written as well.
    """
    own = {sign.measure: sign for sign in cause.signs if sign.names_it}
    if not own:
        return cause.signs
    unless = {f"not_{name}": sign.counts_if for name, sign in own.items()}
    others = {
        sign.measure: replace(
            sign,
            weight_for=0.0,
            counts_if=(),
            weight_against=NAMED_WEIGHT,
            against_if=sign.counts_if,
            only=sign.only | unless,
            names_it=False,
            names_another=True,
        )
        for each in causes
        for sign in each.signs
        if sign.names_it and sign.measure not in own
    }
    return (*cause.signs, *others.values())


def _cause(entry: dict) -> Cause:
    signs = tuple(_sign(each) for each in entry.get("sign", []))
    advice = {key: tuple(map(_advice, entry.get(key, ()))) for key in ("confirm", "fixes")}
    apart = {"sign", "prior", *advice}
    rest = {key: _frozen(value) for key, value in entry.items() if key not in apart}
    return Cause(**rest, **advice, prior=entry["prior"], signs=signs)


def _advice(entry: "str | dict") -> Advice:
    """Plain words, or words with marks."""
    if isinstance(entry, str):
        return Advice(entry)
    plain = {key: _frozen(value) for key, value in entry.items() if key != "aim"}
    made = Advice(**plain, aim={key: tuple(value) for key, value in entry.get("aim", {}).items()})
    for each in made.changes:
        if each not in ADVISED:
            raise ValueError(f"{each!r} is no change that advice can be marked with: {made.say}")
    return made


def _sign(entry: dict) -> Sign:
    plain = {key: _frozen(value) for key, value in entry.items() if key != "only"}
    only = {key: tuple(value) for key, value in entry.get("only", {}).items()}
    return Sign(**plain, only=only)


def _frozen(value):
    return tuple(value) if isinstance(value, list) else value
