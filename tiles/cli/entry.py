"""From the options of ``tiles log`` and ``tiles plan`` to the values of a record.

Plain text in, plain mappings out; the forms check the values afterwards.
"""

import re
from dataclasses import dataclass

from tiles.cli.entry_numbers import numbers, said, thicknesses
from tiles.errors import InvalidValue, Questioned, shell_word

_AT_AREA = re.compile(r"^(?P<rest>.+?)(?:@(?P<area>\d{1,3}))?$")
_ENDS_IN_NUMBER = re.compile(
    r"^(?P<fault>.+?)[\s:]+(?:(?:on|at|in)\s+)?(?:areas?\s*|#\s*|no\.?\s*)?(?P<area>\d{1,2})$",
    re.IGNORECASE,
)
_MANY_NUMBERS = re.compile(r"[=@]\s*\d[\d\s,@=x]*$", re.IGNORECASE)
"""Left at the end of a glaze's name: "slip=1,2,3", "slip=2@1,2"."""
_GLAZE = re.compile(r"^(?P<name>.+?)(?:=(?P<coats>\d{1,3})(?:\s*x)?)?$", re.IGNORECASE)


def split_area(text: str, what: str) -> tuple[str, int | None]:
    """``crawling:severe@3`` as the text before the sign and the number of the area.

    Raises
    ------
    InvalidValue
        Nothing stands before the sign, or no number of an area after it.
    """
    match = _AT_AREA.match(text.strip())
    if not match or match["rest"].endswith("@"):
        raise InvalidValue(
            f"{what} {text!r} is not complete.", f"{what}, or {what}@2 for area 2.", value=text
        )
    area = int(match["area"]) if match["area"] else None
    if area == 0:
        raise InvalidValue(
            f"{what} {text!r}: areas count from 1.", f"{what}@1 for the first area.", value=text
        )
    rest = match["rest"].strip()
    if what != "glaze" and "@" in rest:  # a glaze may have one in its name
        front, _, named = (each.strip() for each in rest.rpartition("@"))
        behind = re.fullmatch(r"(\d{1,3})[\s:]+(\w+)", named)  # "crawling@3 severe"
        hint = f"{front}@2; 'tiles show MARK' has the number before the label."
        raise InvalidValue(
            f"{what} {text!r}: an area is given by its number, not as {named!r}.",
            f"{behind[2]} {front}@{behind[1]}." if behind else hint,
            field="area",
            value=named,
        )
    return rest, area


def read_defect(text: str) -> dict:
    """``crawling:severe@3``, or as in a sheet ``severe crawling (rim)@3``, as values."""
    from tiles.exchange.flat_faults import fault_told
    from tiles.records.words import OTHER_FAULT

    rest, area = split_area(text, "defect")
    defect, sign, severity = rest.partition(":")
    if severity.strip().isdecimal():
        raise InvalidValue(
            f"defect {text!r}: {severity.strip()!r} does not say how severe it is.",
            f"{defect.strip()}:slight, :moderate or :severe, or {defect.strip()}@2 for area 2.",
            field="severity",
            value=severity.strip(),
        )
    told = fault_told(rest)
    if told and (not sign or "(" in defect or told[0] == OTHER_FAULT):
        defect, severity, note = told
        return {"defect": defect, "severity": severity, "area": area, "note": note}
    _refuse_bare_number(rest)
    return {"defect": defect.strip(), "severity": severity.strip() or None, "area": area}


def _refuse_bare_number(text: str) -> None:
    """A number after a fault: an area, or how severe it is by one's own scale."""
    from tiles.exchange.flat_faults import fault_told

    ends = _ENDS_IN_NUMBER.match(text)
    if ends and fault_told(ends["fault"]):
        raise InvalidValue(
            f"defect {text!r}: an area is told by an @, how severe a fault is by a word.",
            f"{ends['fault']}@{ends['area']} for area {ends['area']}; slight, moderate or severe "
            "before the fault.",
            field="area",
            value=ends["area"],
        )


def read_defects(text: str) -> list[dict]:
    """One or several of them, parted as in the cell of a sheet: "crawling and pinholes@2"."""
    from tiles.exchange.flat_faults import faults_apart

    return [read_defect(part) for part in faults_apart(text) or [text]]


def has_no_word(seen: dict) -> bool:
    """Whether nothing tells yet what a fault is: "other" without a note."""
    from tiles.records.words import OTHER_FAULT

    return seen["defect"].casefold() == OTHER_FAULT and not seen.get("note")


def read_clue(text: str) -> tuple[str, str, int | None]:
    """``bisque_wiped=no`` or ``thick_at_edges=yes@2`` as name, answer and area."""
    rest, area = split_area(text, "clue")
    name, sign, answer = rest.partition("=")
    if not sign:
        raise InvalidValue(f"clue {text!r} has no answer.", f"{name}=yes or {name}=no.", value=text)
    return name.strip(), answer.strip(), area


def ask_of_trial(change: str | None, *, yes: bool) -> None:
    """Ask about the words of a trial's change that diagnosis does not know again.

    Raises
    ------
    Questioned
        Nobody is there to ask.
    Declined
        The person will write it otherwise.
    """
    from tiles.cli.common import confirmed

    if change:
        confirmed(lambda is_sure: None if is_sure else _refuse_other_words(change), yes=yes)


def _refuse_other_words(change: str) -> None:
    from diagnose.trials.words import written_as

    if meant := written_as(change):
        raise Questioned(
            f"{change!r} is not how a trial's change is written, so only what the record of the "
            "trial shows tells 'tiles why' of it.",
            f"--trial-change {shell_word(meant)} or the like, or --yes for words of your own.",
            field="trial_change",
            value=change,
        )


@dataclass(frozen=True)
class Coat:
    """One layer as it is given on the command line."""

    glaze: str
    coats: int | None
    area: int | None


def read_coat(text: str) -> Coat:
    """``studio clear=2@1``: the glaze, its coats if given, the area if it is not on all.

    Raises
    ------
    InvalidValue
        Several numbers of coats or areas stand there.
    """
    rest, area = split_area(text, "glaze")
    match = _GLAZE.match(rest)
    if many := _MANY_NUMBERS.search(match["name"]):
        name = match["name"][: many.start()].strip()
        raise InvalidValue(
            f"glaze {text!r}: a layer takes one number of coats and one area.",
            f"{name}=2@1, once for each area; for the top layer --coats 1,2,3.",
            field="glaze",
            value=text,
        )
    return Coat(match["name"].strip(), int(match["coats"]) if match["coats"] else None, area)


def areas(
    glazes: list[str],
    *,
    coats: str | None = None,
    thickness_mm: str | None = None,
    fired_thickness_mm: str | None = None,
    shared: dict | None = None,
) -> list[dict]:
    """The areas of a tile with their layers.

    Parameters
    ----------
    glazes : list of str
        From the clay upwards, each ``NAME``, ``NAME=COATS``, ``NAME@AREA`` or both.
    coats, thickness_mm, fired_thickness_mm : str, optional
        One number for all areas or one for each ("1,2,3"); they belong to the topmost layer.
    shared : dict, optional
        Other fields of the topmost layer: method, batch, ...

    Raises
    ------
    InvalidValue
        Lists of different lengths, or numbers without a glaze.
    """
    layers = [read_coat(text) for text in glazes]
    lists = {"coats": numbers(coats, "coats", int)}
    known = max(len(lists["coats"]), *(layer.area or 1 for layer in layers), 1)
    lists |= {
        "thickness_mm": thicknesses(thickness_mm, "thickness_mm", known),
        "fired_thickness_mm": thicknesses(fired_thickness_mm, "fired_thickness_mm", known),
    }
    if not layers and (shared or any(lists.values())):
        raise InvalidValue("coats or thickness without a glaze.", "--glaze NAME.", field="glaze")
    count = _area_count(layers, lists)
    on_all = {name: value for name, value in (shared or {}).items() if name != "beneath"}
    found = [_area(number, layers, lists, on_all) for number in range(1, count + 1)]
    put_beneath(found, (shared or {}).get("beneath"))
    refuse_one_thickness([area["layers"][-1] for area in found if area["layers"]], lists)
    return found


def _area_count(layers: list[Coat], lists: dict[str, list]) -> int:
    lengths = {name: len(values) for name, values in lists.items() if len(values) > 1}
    if len(set(lengths.values())) > 1:
        told = ", ".join(f"{said(name)} has {count}" for name, count in lengths.items())
        raise InvalidValue(
            f"the areas do not match: {told}.", "one number for all areas, or one for each."
        )
    named = max((layer.area or 1 for layer in layers), default=1)
    _refuse_comma_for_point(lengths, named)
    listed = next(iter(lengths.values()), 1)
    if lengths and named > listed:
        raise InvalidValue(
            f"a glaze is on area {named}, but there are {listed} numbers.",
            "one number for each area.",
        )
    return max(named, listed)


def _refuse_comma_for_point(lengths: dict[str, int], named: int) -> None:
    """Only coats or a glaze on an area make areas: "1,2" mm is far more often 1.2 mm."""
    for name, count in lengths.items():
        if name != "coats" and "coats" not in lengths and count != named:
            raise InvalidValue(
                f"{said(name)} has {count} numbers, but there is {named} area{'s' * (named > 1)}.",
                "a point for the decimals (0.9); for areas of their own --coats 1,2,3 as well.",
                field=name,
            )


def _area(number: int, layers: list[Coat], lists: dict[str, list], shared: dict) -> dict:
    here = [layer for layer in layers if layer.area in (None, number)]
    values = [{"glaze": layer.glaze, "coats": layer.coats} for layer in here]
    if values:
        own = {name: _pick(found, number) for name, found in lists.items()}
        refuse_two_counts(values[-1], own["coats"])
        given = {name: value for name, value in own.items() if value is not None}
        values[-1] |= given | shared
    return {"number": number, "layers": values}


def refuse_two_counts(top: dict, coats: int | None) -> None:
    """Coats of one layer may be given with its name or by themselves, not both."""
    if coats is not None and top["coats"] not in (None, coats):
        raise InvalidValue(
            f"{top['glaze']!r} is given {top['coats']} coats and {coats}.",
            "--glaze NAME=COATS or --coats, not both.",
            field="coats",
        )


def refuse_one_thickness(tops: list[dict], lists: dict[str, list]) -> None:
    """One coat and three are not equally thick: one number was measured on one of the areas.

    Parameters
    ----------
    tops : list of dict
        The topmost layer of each area.
    lists : dict
        The numbers given, by field.

    Raises
    ------
    InvalidValue
        Asks for a number for each area.
    """
    coats = [top["coats"] for top in tops if top["coats"]]
    for name in ("thickness_mm", "fired_thickness_mm"):
        given = lists.get(name, [])
        value = given[0] if len(given) == 1 else None
        if value is not None and len(set(coats)) > 1:
            from diagnose.wording import listed

            counts = listed([str(each) for each in dict.fromkeys(coats)])
            raise InvalidValue(
                f"{said(name)} {value:g} mm cannot hold for {counts} coats alike.",
                "one for each area, blank where it was not measured, such as "
                f"{',' * (len(tops) - 1)}{value:g} for the last.",
                field=name,
                value=value,
            )


def lies_on_another(layers: list[dict]) -> bool:
    """Whether the top coat lies on another layer or coat; True where the coats were not counted."""
    return len(layers) > 1 or bool(layers) and layers[-1]["coats"] != 1


def put_beneath(areas: list[dict], state: str | None) -> None:
    """Give the areas where something lies beneath the top coat its state; one coat has nothing.

    Raises
    ------
    InvalidValue
        On no area does anything lie beneath.
    """
    there = [area["layers"] for area in areas if lies_on_another(area["layers"])]
    if state and not there:
        raise InvalidValue(
            f"one coat on bare clay has no layer beneath that was {state}.",
            "the coats or layers there were, or leave it out.",
            field="beneath",
            value=state,
        )
    for layers in there if state else ():
        layers[-1]["beneath"] = state


def left_bare(areas: list[dict]) -> str:
    """A line on the areas that have no layer beneath; empty for none."""
    bare = [str(area["number"]) for area in areas if not lies_on_another(area["layers"])]
    many = f"Areas {', '.join(bare)} are" if len(bare) > 1 else f"Area {''.join(bare)} is"
    told = f"{many} one coat on bare clay at most: nothing is noted of a layer beneath there."
    return told if bare else ""


def _pick(values: list, number: int):
    if not values:
        return None
    return values[0] if len(values) == 1 else values[number - 1]
