"""What every answer of ``tiles why`` is made of: wrapped lines, labels, headings, news of notes."""

import shutil
import textwrap

OTHER = "other"
"""The name of what is in no list: there is nothing to tell of it but its share."""
LABEL_WIDTH = 14
MOST_WIDTH, LEAST_WIDTH = 80, 8
"""The columns of a plain terminal, longer lines being hard to read on any; and of any text."""


def width() -> int:
    """Columns to write in: the terminal's, but no wider than is good to read."""
    return min(shutil.get_terminal_size().columns, MOST_WIDTH)


def wrap(text: str, indent: int = 0) -> list[str]:
    """A text wrapped to the width, less an indent."""
    return textwrap.wrap(text, max(LEAST_WIDTH, width() - indent), break_on_hyphens=False)


def labelled(label: str, text: str) -> list[str]:
    """A text beside its label, wrapped."""
    return hanging(f"   {label:<{LABEL_WIDTH}}", text)


def hanging(start: str, text: str) -> list[str]:
    """A text that begins after a start and goes on beneath itself."""
    indent = " " * len(start)
    wrapped = wrap(text, len(indent))
    return [(indent if number else start) + line for number, line in enumerate(wrapped)]


def capital(text: str) -> str:
    """The text with a capital letter."""
    return text[:1].upper() + text[1:]


def tile(record) -> list[str]:
    """The tile in a line: its mark, body, coats and the cone it reached."""
    from tiles.records import derived
    from tiles.records.spoken import spoken_layers

    reached = derived.cone_reached(record)
    coats = " | ".join(dict.fromkeys(spoken_layers(area.layers) for area in record.areas))
    cone = f"cone {reached.cone}" if reached else "cone reached not recorded"
    return wrap(f"{record.mark}: {record.body.name}, {coats}, {cone}")


def heading(diagnosis, many_areas: bool) -> str:
    """The defect, how bad it is, and where."""
    where = f", area {', '.join(map(str, diagnosis.areas))}" if many_areas else ""
    severity = f", {diagnosis.severity}" if diagnosis.severity else ""
    logged = f" (logged as {diagnosis.instead_of})" if diagnosis.instead_of else ""
    return f"{diagnosis.defect.upper()}{logged}{severity}{where}"


def news(diagnosis, shown: list) -> list[str]:
    """What notes say that neither the record nor the evidence of the causes shown says."""
    from diagnose.wording import note

    notes = diagnosis.case.notes if diagnosis.case else ()
    evidence = [text for cause in shown for text in (*cause.for_, *cause.against)]
    return [
        note(each)
        for each in notes
        if not each.agrees and not any(f'"{each.phrase}"' in text for text in evidence)
    ]


def handling(diagnoses: list) -> list[str]:
    """What the glazes hold that calls for care, each hazard once."""
    return list(dict.fromkeys(text for each in diagnoses for text in each.handling))
