"""The sentences of an answer: short, plain, with the tile's own figures."""

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from diagnose.vocabulary import how_to_get
from tiles.records.words import OTHER_FAULT

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from diagnose.case import Case
    from diagnose.measures.of_area import Measure
    from diagnose.notes.reading import NoteRead
    from diagnose.rules import Advice, Cause
    from diagnose.weighing import Argument, Weighed

SURE_SHARE = 0.6
"""Below this an answer is called a best guess ..."""
ALMOST_CERTAIN = 0.85
"""... and from here on almost certain."""
RIVAL_SHARE, RIVAL_PART = 0.15, 1 / 3
"""From this share on, and this part of the first one, the next cause is named beside it."""
NO_CAUSE_YET = "A difference, not yet a cause: not enough is recorded to tell"
VARY = "Fire a test tile and change one thing at a time."
"""What is left to do where nothing that could be recorded would tell more."""
SAY_WHAT = (
    "Say in a note what it looks like: streaky, bare, cracked, stuck, chipped, scratched, "
    "smeared, exploded, dropped, or sharp points underneath."
)
"""What is left to do of a fault that has no word of its own, and of which none is written."""
LOOK = (
    "Look with a lens, and log it as specks where grains stick to it, as underfired where it is "
    "dry and dull, as crawling where clay lies bare between rolled edges. Is it on other tiles of "
    "the same shelf, jar or clay? Then look there."
)
"""The same where what is written fits no cause."""
HAPPENED = {
    "crazing": "why it crazed",
    "shivering": "why it shivered",
    "crawling": "why it crawled",
    "pinholes": "why it has pinholes",
    "blisters": "why it has blisters",
    "running": "why it ran",
    "underfired": "why it is underfired",
    "bloating": "why it bloated",
    "dunting": "why it cracked",
    "unwanted matt": "why it is matt",
    "specks": "why it has specks",
    "colour shift": "why the colour shifted",
    "cloudiness": "why it is cloudy",
    "metal marking": "why metal marks it",
    "other": "what went wrong here",
}
DID = {
    "crazing": "crazed",
    "shivering": "shivered",
    "crawling": "crawled",
    "pinholes": "had pinholes",
    "blisters": "blistered",
    "running": "ran",
    "underfired": "came out underfired",
    "bloating": "bloated",
    "dunting": "cracked",
    "unwanted matt": "came out matt",
    "specks": "had specks",
    "colour shift": "changed colour",
    "cloudiness": "came out cloudy",
    "metal marking": "took metal marks",
}
"""What the failing ones did; "failed" for the rest."""


def listed(names: "Sequence[str]", word: str = "and") -> str:
    """Names in a row.

    Examples
    --------
    >>> listed(["body", "cone", "coats"]), listed(["body"]), listed(["A", "B"], "or")
    ('body, cone and coats', 'body', 'A or B')
    """
    return f" {word} ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def argument(each: "Argument") -> str:
    """One piece of evidence: "Coat 1.6 mm dry, as applied, usual 0.5 to 1.0 mm."."""
    usual = f", usual {each.sign.usual}" if each.sign.usual else ""
    because = f": {each.sign.because}" if each.sign.because else ""
    from_note = f'from your note "{each.measure.note}": ' if each.measure.note else ""
    if each.sign.names_another:
        return sentence(f"{from_note or each.measure.said + ': '}another fault than this")
    return sentence(f"{from_note}{each.measure.said}{usual}{because}")


def note(each: "NoteRead") -> str:
    """One phrase of a note and what it was taken for."""
    return sentence(f'from your note "{each.phrase}": {each.said}')


# A fix may begin with whom it is for; it is then left out where it does not apply.
_FOR_KIND = {"Own recipe: ": "recipe", "Jar: ": "jar"}
_FOR_SETTING = {"Low fire: ": "low_fire", "Mid range: ": "mid_range"}
_FOR_PLACE = {"Whole kiln: ": "kiln"}
_FOR_METHOD = {
    "Dipping: ": "dip",
    "Pouring: ": "pour",
    "Brushing: ": "brush",
    "Spraying: ": "spray",
}
# A fix that speaks of one way to put glaze on is of no use to someone who used another.
_SPEAKS_OF = {
    "dip": re.compile(r"\b(a dipping|dip|dips|dipping|dipped)\b", re.IGNORECASE),
    "pour": re.compile(r"\b(pour|pouring)\b", re.IGNORECASE),
    "brush": re.compile(r"\b(a brushing|brush on|brushed coats?|brush coats?)\b", re.IGNORECASE),
    "spray": re.compile(r"\b(spray|spraying)\b", re.IGNORECASE),
}


_AS_DIPPED = (
    (r"^put on one coat less, or aim", "A thinner slop, or a shorter dip or pour; aim"),
    (r"^(?:one|1) coat less(?:, or 0\.05 lower specific gravity)?",
     "A thinner slop, or a shorter dip or pour"),
    (r"^one more coat(?:: 3 in all, 2 of a clear)?", "A thicker slop, or a longer dip or pour"),
    (r"\bglaze one( upright|) tile with one, two and three coats(?: side by side)?",
     r"Dip or pour three bands of one\1 tile, each a little longer"),
    (r"\b(?:two|2) thin coats(?= of clear|\.?$)", "one short dip or pour"),
)  # fmt: skip
"""What counts coats, and what a dipper does in place of it (common practice, no source)."""
_ONE_DIP_LESS = ((r"^(?:put on )?(?:one|1) coat less", "One dip or pour less"),)
"""The same where it was dipped more than once."""


def is_one_dip(known: "Mapping[str, Measure]") -> bool:
    """Whether the glaze was dipped or poured once, so that no coats of it can be counted."""
    dips = _dips(known)
    return dips is not None and dips <= 1


def _dips(known: "Mapping[str, Measure]") -> float | None:
    """How often the glaze was dipped or poured; None where it was put on otherwise."""
    method, coats = (known[name].value if name in known else None for name in ("method", "coats"))
    return (coats or 1) if method in ("dip", "pour") else None


def as_put_on(text: str, known: "Mapping[str, Measure]") -> str:
    """Advice that counts coats, as it is done with a slop where the glaze was dipped or poured."""
    dips = _dips(known)
    return text if dips is None else as_dipped(text, dips)


def as_dipped(text: str, dips: float = 1) -> str:
    """Advice that counts coats, as it is done with a slop.

    Examples
    --------
    >>> as_dipped("Two thin coats of clear."), as_dipped("One coat less.", dips=2)
    ('One short dip or pour of clear.', 'One dip or pour less.')
    """
    for counted, dipped in (*(_ONE_DIP_LESS if dips > 1 else ()), *_AS_DIPPED):
        text = re.sub(counted, dipped, text, flags=re.IGNORECASE)
    return text[:1].upper() + text[1:]


def fixes(
    advice: "Sequence[Advice]",
    known: "Mapping[str, Measure]",
    setting: str,
    *,
    one_shelf: bool = False,
) -> "list[Advice]":
    """The fixes that fit: a jar's recipe cannot be changed, a brushed glaze is not dipped.

    ``one_shelf``: the fault is that of one shelf, so that the whole kiln must not be changed.
    """
    kind, method = (
        known[name].value if name in known else None for name in ("glaze_kind", "method")
    )
    facts = (
        (_FOR_KIND, kind),
        (_FOR_SETTING, None if setting == "unknown" else setting),
        (_FOR_METHOD, method),
        (_FOR_PLACE, "shelf" if one_shelf else "kiln"),
    )
    kept = []
    for each in advice:
        text = each.say
        for prefixes, fact in facts:
            prefix = next((word for word in prefixes if text.startswith(word)), None)
            if prefix is None or fact is None:
                continue
            text = sentence(text.removeprefix(prefix)) if prefixes[prefix] == fact else ""
        if text and _fits_method(text, method):
            text = as_put_on(text, known)
            kept.append(replace(each, say=text))
    return kept


def _fits_method(text: str, method: str | None) -> bool:
    spoken_of = {name for name, words in _SPEAKS_OF.items() if words.search(text)}
    return method not in _SPEAKS_OF or not spoken_of or method in spoken_of


def missing(name: str) -> str:
    """One thing not recorded and how to get it."""
    text = how_to_get(name)
    return text if text.endswith("?") else sentence(text)


def lead(defect: str, first: "Weighed") -> str:
    """The answer in one line."""
    title = first.cause.title.casefold()
    evidence = [argument(each) for each in _telling_first(first.for_)[:1]]
    evidence = [each for each in evidence if each.rstrip(".").casefold() not in title]
    odds = f"({in_ten(first.share)})"
    if not first.cause.is_fault:
        return " ".join([sentence(f"not a fault: {first.cause.title} {odds}"), *evidence])
    sure = how_sure(first.share)
    if first.cause.right_name:
        return " ".join([_misnamed(defect, first.cause, first.share, f"{sure} {odds}"), *evidence])
    answer = sentence(f"{sure} {odds}: {first.cause.title}")
    return " ".join([answer, *evidence])


def lead_of_two(rows: "Sequence[Weighed]") -> str:
    """The answer with the next cause, where that is no much poorer one; empty where it is."""
    first, rival = rows[0], rows[1]
    if rival.share < max(RIVAL_SHARE, RIVAL_PART * first.share) or not rival.is_in_question:
        return ""
    if any(row.cause is None or not row.cause.is_fault or row.cause.right_name for row in rows[:2]):
        return ""
    answer = f"{how_sure(first.share)} ({in_ten(first.share)}): {first.title}"
    return sentence(f"{answer}; or ({in_ten(rival.share)}) {rival.title}")


def _telling_first(found: "Sequence[Argument]") -> "list[Argument]":
    """What was done to the tile before what its glaze is: that it is red, it is on sound ones."""
    return sorted(found, key=lambda each: each.sign.measure == "glaze_colour")


def how_sure(share: float) -> str:
    """How firmly an answer with this share is given."""
    if not is_sure(share):
        return "best guess"
    return "almost certainly" if _as_told(share) >= ALMOST_CERTAIN else "most likely"


def is_sure(share: float) -> bool:
    """Whether an answer with this share is more than a best guess."""
    return _as_told(share) >= SURE_SHARE


def _as_told(share: float) -> float:
    """The share as its whole percent is told beside the words: 85 % is one wording, not two."""
    return round(100 * share) / 100


def same_cause(share: float) -> str:
    """The answer in one line, where the cause was named for another defect of the tile."""
    return sentence(f"{how_sure(share)}: the same cause ({in_ten(share)})")


def one_cause(defect: str, also_explains: list[str]) -> str:
    """That the same cause would explain more of what is on the tile; empty when it does not."""
    if not also_explains:
        return ""
    *first, last = [defect, *also_explains]
    how_many = "both" if len(first) == 1 else "all of"
    return f" One cause would explain {how_many} {', '.join(first)} and {last}."


def _misnamed(defect: str, cause: "Cause", share: float, sure: str) -> str:
    """Another fault, or one that has no name in the list; said no more firmly than it is known."""
    because = sentence(f"{sure}: {cause.title}")
    if cause.right_name == OTHER_FAULT:
        named = f"this is not {defect}" if is_sure(share) else f"this does not look like {defect}"
        return f"{sentence(named)} {because} Log it as other."
    named = f"this looks like {cause.right_name} rather than {defect}"
    if is_sure(share):
        named = f"this is {cause.right_name}, not {defect}"
    return f"{sentence(named)} {because}"


def suspect(case: "Case") -> str:
    """That the record does not tell, and whom it points to so far; a very clear count first."""
    from diagnose.own_tiles.head_count import head_count

    if fits_no_cause(case):
        return f'No cause known here fits "{case.noted}". {LOOK}'
    start = f"Not enough recorded to tell {HAPPENED[case.defect]}."
    if count := head_count(case):
        start = f"{sentence(count.say)} {NO_CAUSE_YET} {HAPPENED[case.defect]}."
    if (first := _suspected(case)) is None:
        return f"{start} {SAY_WHAT}"
    if first.cause is not None and first.evidence > 0:
        start += f" First suspect ({in_ten(first.share)}): {first.cause.title}."
    return start


def fits_no_cause(case: "Case") -> bool:
    """Whether a fault is written down in words that no cause fits, which is the whole answer."""
    return bool(case.noted) and _suspected(case) is None


def _suspected(case: "Case") -> "Weighed | None":
    """The first row; None where nothing is suspected of a fault kept in words of one's own.

    What such words name is the suspect, however much is left for what is in no list.
    """
    first = case.first
    if case.defect != OTHER_FAULT or (first.cause and not first.is_unspoken):
        return first
    return next((row for row in case.rows if row.cause and row.is_in_question), None)


def not_enough(case: "Case", names: list[str]) -> str:
    """The line said first when the record does not tell, with what would help."""
    start = suspect(case)
    if not names:
        return start if start.endswith(LOOK) else f"{start} {VARY}"
    return " ".join([start, "To find out:", *[missing(name) for name in names]])


def in_ten(share: float) -> str:
    """A share in words, no finer than it is known.

    Examples
    --------
    >>> in_ten(0.71), in_ten(0.85), in_ten(0.99), in_ten(0.02)
    ('about 7 in 10', 'about 9 in 10', 'more than 9 in 10', 'less than 1 in 10')
    """
    tenths = (round(100 * share) + 5) // 10
    if tenths > 9:
        return "more than 9 in 10"
    return f"about {tenths} in 10" if tenths else "less than 1 in 10"


def sentence(text: str) -> str:
    """Capital letter and full stop."""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?")) else text + "."
