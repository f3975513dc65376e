"""What every answer of ``tiles why`` is made of: wrapped lines, labels, headings, news of notes."""

from tiles.cli import prose
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

OTHER = "other"
"""The name of what is in no list: there is nothing to tell of it but its share."""
LABEL_WIDTH = 14
MOST_WIDTH = 80
"""The columns of a plain terminal; longer lines are hard to read on any."""


def width() -> int:
    """Columns to write in: the terminal's, but no wider than is good to read."""
    return prose.width(MOST_WIDTH)


def wrap(text: str) -> list[str]:
    """A text wrapped to the width."""
    return prose.wrap(text, most=MOST_WIDTH)


def labelled(label: str, text: str) -> list[str]:
    """A text beside its label, wrapped."""
    return hanging(f"   {label:<{LABEL_WIDTH}}", text)


def hanging(start: str, text: str) -> list[str]:
    """A text that begins after a start and goes on beneath itself."""
    return prose.beside(start, text, MOST_WIDTH)


def capital(text: str) -> str:
    """The text with a capital letter."""
    return text[:1].upper() + text[1:]


def tile(record) -> list[str]:
    """The tile: its mark, body, coats and the cone it reached; of a trial, whose it is.

    Also that no cone of its bisque counts, where the shelves of that read several.
    """
    from tiles.records.derived import bisque_by_shelf
    from tiles.records.spoken import spoken_bisque, spoken_tile

    told = wrap(spoken_tile(record))
    if bisque_by_shelf(record):
        told += wrap(f"No bisque cone counts: {spoken_bisque(record)}.")
    if record.trial_of:
        failed = shell_word(record.trial_of)
        said = f"A trial for {record.trial_of}: 'tiles why {failed}' weighs the whole set."
        told += prose.between_words(with_db(said))
    return told


def has_suspect(diagnosis) -> bool:
    """Whether anything speaks for the first cause, so that it is worth naming."""
    first = diagnosis.causes[0]
    return diagnosis.enough_to_tell or not (first.name == OTHER or first.is_unspoken)


def heading(diagnosis, many_areas: bool) -> str:
    """The defect, how bad it is, and where."""
    where = f", area {', '.join(map(str, diagnosis.areas))}" if many_areas else ""
    severity = f", {diagnosis.severity}" if diagnosis.severity else ""
    logged = f" (logged as {diagnosis.instead_of})" if diagnosis.instead_of else ""
    return f"{diagnosis.defect.upper()}{logged}{severity}{where}"


def news(diagnosis, shown: list) -> list[str]:
    """What free-text notes and a tile made alike say that nothing else on the screen says."""
    from diagnose.wording import note

    evidence = [text for cause in shown for text in (*cause.for_, *cause.against)]
    told = [
        note(each)
        for each in diagnosis.case.notes
        if not each.agrees and not any(f'"{each.phrase}"' in text for text in evidence)
    ]
    return [diagnosis.case.sister, *told] if diagnosis.case.sister else told


def not_said(sentences: list[str], say: str) -> list[str]:
    """The sentences that a text does not hold."""
    said = say.casefold()
    return [each for each in sentences if each.rstrip(".").casefold() not in said]


def handling(diagnoses: list) -> list[str]:
    """What the glazes hold that calls for care, each hazard once."""
    return list(dict.fromkeys(text for each in diagnoses for text in each.handling))


def leaching(diagnoses: list) -> list[str]:
    """That a colour on the tile gives off more of what is in it, once."""
    found = dict.fromkeys(each.leaching for each in diagnoses if each.leaching)
    return wrap(next(iter(found), ""))


def of_all_glazes(case) -> str:
    """What tiles of all glazes tell, with the cause that has it where the first has not."""
    from diagnose.wording import sentence

    told = sentence(case.studio.say)
    rows = [row for row in case.rows if not row.is_ruled_out]
    those = [row for row in rows if case.studio.speaks_for(row.cause)]
    is_of_another = those and case.first not in those
    return f"{told} That speaks for: {those[0].title}." if is_of_another else told
