"""Raw materials: what each is made of, its loss on ignition, and where that is known from.

The shipped list holds plain materials under their trade names: ideal minerals computed from their
formula (kind ``derived``), typical analyses from a named source (``measured``) and our own guesses
(``estimated``), among them a few generic frits to be replaced by the supplier's analysis. A user's
own materials go before the shipped ones of the same name.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache, cached_property

from tiles.chemistry import oxides as ox
from tiles.chemistry._hazard_words import plain
from tiles.chemistry._number import read_number
from tiles.chemistry._tables import read_table
from tiles.errors import InvalidValue, UnknownName, nearest

KINDS = ("measured", "derived", "estimated")
CLAYS = ("", "raw", "calcined")

LOWEST_SUM_PERCENT, HIGHEST_SUM_PERCENT = 97.0, 103.0
"""An analysis with its loss on ignition must add up to about 100. [wt %], common practice."""

LOWEST_LOSS_PERCENT = -6.0
"""A material whose iron takes up oxygen gains up to about 5 % (ilmenite). [wt %]."""

OXYGEN_PER_FLUORINE = 0.42106
"""Oxygen counted twice when fluorine is listed beside oxides: half an O per F. [g/g]."""

_COLUMN_END = "_wt_percent"
_LOSS_COLUMN = "loss_on_ignition_wt_percent"


@dataclass(frozen=True)
class Material:
    """One raw material.

    ``analysis`` is the mass of each oxide as listed [wt %], ``loss_on_ignition_percent`` the loss
    listed beside it [wt %]. ``kind`` is one of `KINDS`, ``clay`` one of `CLAYS`.
    """

    name: str
    analysis: Mapping[str, float] = field(hash=False)
    loss_on_ignition_percent: float
    kind: str
    source: str
    clay: str = ""
    aliases: tuple[str, ...] = ()
    note: str = field(default="", compare=False)

    @cached_property
    def moles_per_g(self) -> dict[str, float]:
        """Moles of each oxide, as reported and without volatile ones, that 1 g brings. [mol/g]."""
        mass_g = {oxide: percent / 100 for oxide, percent in self.analysis.items()}
        return ox.reported(ox.moles(mass_g))

    @cached_property
    def loss_percent(self) -> float:
        """All that leaves on firing, with sulphate and fluorine listed apart. [wt %]."""
        volatile = {each: self.analysis.get(each, 0.0) for each in ox.with_role("volatile")}
        return sum_percent(volatile, self.loss_on_ignition_percent)

    @property
    def names(self) -> tuple[str, ...]:
        """Its name and the other names it goes by."""
        return (self.name, *self.aliases)


def from_analysis(
    name: str,
    analysis: Mapping[str, float],
    *,
    loss_on_ignition_percent: float | None = None,
    kind: str = "measured",
    source: str = "",
    clay: str = "",
    aliases: Iterable[str] = (),
) -> Material:
    """A material from an analysis, such as a supplier's data sheet, once it can be right.

    Parameters
    ----------
    name : str
        What it goes by.
    analysis : Mapping[str, float]
        Mass of each oxide. [wt %], each from 0 to 100; fluorine as ``F``.
    loss_on_ignition_percent : float, optional
        [wt %]; taken as 0 when left out.
    kind, source, clay, aliases
        Of `KINDS`; where it is known from; of `CLAYS`; other names.

    Raises
    ------
    InvalidValue
        No name or oxide, a value below 0 or no number, or a sum far from 100.
    UnknownName
        An oxide is not in the table.

    Examples
    --------
    >>> from_analysis("whiting", {"CaO": 55.5, "MgO": 0.4}, loss_on_ignition_percent=43.9).kind
    'measured'
    """
    if not str(name).strip():
        raise InvalidValue("A material needs a name.", "the name on the bag.", field="material")
    if kind not in KINDS or clay not in CLAYS:
        raise InvalidValue(
            f"{name}: kind {kind!r} or clay {clay!r} is not known.",
            f"a kind of {', '.join(KINDS)}; clay raw, calcined or empty.",
            field="kind",
        )
    values = _checked_values(name, analysis)
    loss = 0.0 if loss_on_ignition_percent is None else loss_on_ignition_percent
    _check_loss(name, loss)
    _check_sum(name, sum_percent(values, loss), loss_on_ignition_percent is None)
    return Material(name.strip(), values, float(loss) + 0.0, kind, source, clay, tuple(aliases))


def _checked_values(name: str, analysis: Mapping[str, float]) -> dict[str, float]:
    values: dict[str, float] = {}
    for text, percent in analysis.items():
        oxide = ox.read_oxide(text)
        hint = "a percentage of 0 or more."
        number = read_number(percent, f"{name}: {oxide}", hint, oxide)
        if number < 0:
            told = f"{name}: {oxide} {number:g} % cannot be right."
            raise InvalidValue(told, hint, field=oxide, value=percent)
        if oxide in values:
            raise InvalidValue(f"{name}: {oxide} is listed twice.", "one value.", field=oxide)
        values[oxide] = number + 0.0  # -0 as 0
    if not any(values.values()):
        raise InvalidValue(f"{name}: the analysis lists no oxide.", "at least one, such as SiO2.")
    return values


def _check_loss(name: str, loss: float) -> None:
    hint, field_name = "a percentage from 0 to 99.", "loss_on_ignition_percent"
    number = read_number(loss, f"{name}: loss on ignition", hint, field_name)
    if not LOWEST_LOSS_PERCENT <= number < 100:
        told = f"{name}: loss on ignition {number:g} % cannot be right."
        raise InvalidValue(told, hint, field=field_name, value=loss)


def _check_sum(name: str, total: float, is_loss_missing: bool) -> None:
    if LOWEST_SUM_PERCENT <= total <= HIGHEST_SUM_PERCENT:
        return
    hint = "check each value against the data sheet."
    if is_loss_missing and total < LOWEST_SUM_PERCENT:
        hint = f"add the loss on ignition, {100 - total:.1f} % if that is all that is missing."
    raise InvalidValue(
        f"{name}: the analysis adds up to {total:.1f} % instead of about 100.",
        hint,
        field="analysis",
        value=total,
    )


def sum_percent(analysis: Mapping[str, float], loss_on_ignition_percent: float) -> float:
    """What an analysis adds up to with its loss on ignition. [wt %].

    Examples
    --------
    >>> round(sum_percent({"CaO": 71.825, "F": 48.667}, 0), 1)      # fluorspar
    100.0
    """
    fluorine = analysis.get("F", 0.0)
    return sum(analysis.values()) - OXYGEN_PER_FLUORINE * fluorine + loss_on_ignition_percent


def fold(name: str) -> str:
    """A name as it is compared: case, accents, hyphens and extra spaces do not count."""
    return " ".join(plain(str(name)).casefold().replace("-", " ").replace("_", " ").split())


@cache
def shipped() -> tuple[Material, ...]:
    """The shipped materials, in the order of their names.

    Source
    ------
    The ``source`` of each row of data/materials.csv.
    """
    return tuple(_from_row(row) for row in read_table("materials"))


def _from_row(row: dict[str, str]) -> Material:
    analysis = {
        column.removesuffix(_COLUMN_END): float(value)
        for column, value in row.items()
        if column.endswith(_COLUMN_END) and column != _LOSS_COLUMN and value
    }
    return Material(
        name=row["material"],
        analysis=analysis,
        loss_on_ignition_percent=float(row[_LOSS_COLUMN]),
        kind=row["kind"],
        source=row["source"],
        clay=row["clay"],
        aliases=tuple(each.strip() for each in row["aliases"].split(";") if each.strip()),
        note=row["note"],
    )


@cache
def _shipped_by_name() -> dict[str, Material]:
    named = {fold(name): each for each in shipped() for name in each.names}
    return {name: named[material] for name, material in _in_other_languages().items()} | named


@cache
def _in_other_languages() -> dict[str, str]:
    """What the shipped materials are called in other languages of Europe, both names folded.

    Such a name is known where it is typed, and neither listed nor guessed at: a letter makes talc
    of lime there.
    """
    rows = read_table("material_names")
    return {fold(name): fold(row["material"]) for row in rows for name in row["names"].split(";")}


def index(own: Iterable[Material] = ()) -> dict[str, Material]:
    """Every material by each of its folded names; the user's own go before the shipped ones."""
    own = tuple(own)
    if not own:
        return _shipped_by_name()
    return _shipped_by_name() | {fold(name): each for each in own for name in each.names}


def find(name: str, own: Iterable[Material] = ()) -> Material:
    """The material that goes by a name.

    Raises
    ------
    UnknownName
        No material of that name; the nearest is suggested.

    Examples
    --------
    >>> find("China Clay").name, find("flint").name
    ('kaolin', 'silica')
    """
    known = index(own)
    found = known.get(fold(name))
    if found is None:
        raise unknown(name, known)
    return found


_PARTS = re.compile(
    r"(?<=\w\w)(?=[ck]arbona|(?:di|mono|tri|pent)?o(?:x[iy]|ksi)d|(?:bi|di)?sili[ck]a|sul(?:f|ph)[ai]"
    r"|phospha|fosfa|hydro|nitra|fluor|bora|fel[dt]spa|faltspa|veldspa|maasalpa|frit|syen)"
)
"""Where a compound such as "Kalifeldspat" or "kaliumcarbonaat" is put together."""
_ALIKE = 0.76
"""How alike two words must be (estimate): "coblt" is cobalt, "cadmium" no magnesium and "Zinn" no
zinc."""
_SHORTENED = 3
"""So many letters of a word stand for it: "carb"."""


def nearest_name(name: str, known: Iterable[str]) -> str | None:
    """The known material name most like one that is not known; felspar is feldspar.

    Examples
    --------
    >>> nearest_name("felspar", index()), nearest_name("whitting", index())
    ('soda feldspar', 'whiting')

    A guess never puts one metal or mineral for another, nor hides a poison.

    >>> nearest_name("cadmium sulphide", index()), nearest_name("coblt carbonate", index())
    (None, 'cobalt carbonate')
    """
    folded = fold(name).replace("felspar", "feldspar")
    close = nearest(folded, [each for each in known if each not in _in_other_languages()])
    return close if close and not _is_other(folded, close) else None


def _is_other(name: str, close: str) -> bool:
    """Whether each of two names has a word that the other lacks, or the first tells of a hazard.

    "Kalk-feldspat" and "soda feldspar" share one word only, "felspar" and "soda feldspar" may be
    the same.
    """
    from tiles.chemistry.hazards import named_hazards

    told, meant = _words(name), _words(close)
    if not (_are_all_in(told, meant) or _are_all_in(meant, told)):
        return True
    return not named_hazards(name) <= named_hazards(close)


def _words(name: str) -> list[str]:
    return re.findall(r"\w+", _PARTS.sub(" ", name))


def _are_all_in(words: list[str], others: list[str]) -> bool:
    return all(nearest(each, others, _ALIKE) or _is_short(each, others) for each in words)


def _is_short(word: str, others: list[str]) -> bool:
    return len(word) >= _SHORTENED and any(each.startswith(word) for each in others)


def unknown(name: str, known: Mapping[str, Material]) -> UnknownName:
    """The error for a name no material goes by, with the nearest known one."""
    hint = nearest_name(name, known) or "a plain material such as whiting or kaolin"
    return UnknownName(
        f"No material goes by the name {str(name)!r}.",
        f"{hint}, or add {str(name)!r} with the analysis on its data sheet.",
        field="material",
        value=name,
    )
