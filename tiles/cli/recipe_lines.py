"""The lines of a recipe as they come in: options, a CSV file, or a person asked one by one."""

import csv
from dataclasses import dataclass
from pathlib import Path

from tiles.cli.amounts import read_number, read_pair
from tiles.errors import InvalidValue

EXAMPLE = '"soda feldspar=32"'
_YES = ("yes", "y", "true", "1", "x")
_NO = ("no", "n", "false", "0", "")


@dataclass(frozen=True)
class Lines:
    """(material, parts) pairs of the base and of the additions, as given."""

    base: list[tuple[str, float]]
    extras: list[tuple[str, float]]

    @property
    def base_sum(self) -> float:
        """Parts of the base added up."""
        return sum(parts for _, parts in self.base)

    @property
    def extras_sum(self) -> float:
        """Parts of the additions added up."""
        return sum(parts for _, parts in self.extras)

    def refuse_impossible(self) -> None:
        """Raise for parts that are absent or below 0, and for a material that comes twice."""
        from tiles.chemistry.recipes import read_recipe

        read_recipe(self.base, extras=self.extras)

    def to_100(self) -> "Lines":
        """The same recipe with a base of 100 parts; additions keep their share of the base."""
        if not self.base:
            raise InvalidValue("there is no base to bring to 100.", "leave --to-100 out.")
        by = 100 / self.base_sum
        return Lines(
            [(name, parts * by) for name, parts in self.base],
            [(name, parts * by) for name, parts in self.extras],
        )


def from_options(lines: list[str], extras: list[str]) -> Lines:
    """From ``--line MATERIAL=PARTS`` and ``--extra MATERIAL=PARTS``."""
    return Lines(
        [read_pair(text, "--line", EXAMPLE) for text in lines],
        [read_pair(text, "--extra", '"tin oxide=4"') for text in extras],
    )


def from_csv(file: Path) -> Lines:
    """From a CSV file with the columns material, parts and, if need be, is_addition.

    Raises
    ------
    InvalidValue
        The file, a column or a value cannot be read; names the row.
    """
    groups: tuple[list, list] = ([], [])
    for number, row in _rows(file):
        where = f"{file.name}, row {number}"
        name = " ".join((row["material"] or "").split())
        if not name:
            raise InvalidValue(f"{where}: no material.", "its name.", row=number)
        parts = read_number(row["parts"] or "", f"{where}: parts of {name!r}", "25")
        groups[_is_addition(row.get("is_addition"), where, number)].append((name, parts))
    return Lines(*groups)


def _rows(file: Path) -> list[tuple[int, dict]]:
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or "it is not UTF-8 text"
        raise InvalidValue(f"{file} cannot be read ({reason}).", "a CSV file.") from error
    header = text.partition("\n")[0]
    mark = next((each for each in ("\t", ";") if each in header), ",")
    reader = csv.DictReader(text.splitlines(), delimiter=mark)
    columns = [(each or "").strip().casefold() for each in reader.fieldnames or []]
    if not {"material", "parts"} <= set(columns):
        raise InvalidValue(
            f"{file.name} has the columns {', '.join(filter(None, columns)) or 'none'}.",
            "material,parts,is_addition in the first row.",
        )
    reader.fieldnames = columns
    return [(number, row) for number, row in enumerate(reader, start=2) if any(row.values())]


def _is_addition(text: str | None, where: str, number: int) -> bool:
    plain = (text or "").strip().casefold()
    if plain not in _YES + _NO:
        raise InvalidValue(
            f"{where}: is_addition {text!r} is neither.",
            "yes or no.",
            field="is_addition",
            row=number,
        )
    return plain in _YES


def asked() -> Lines:
    """Asked from the person at the keyboard, base first, then additions."""
    from tiles.cli.ask import ask
    from tiles.cli.common import talk

    def group(question: str) -> list[tuple[str, float]]:
        found: list[tuple[str, float]] = []
        while pair := ask(question, check=lambda text: read_pair(text, "line", EXAMPLE)):
            found.append(pair)
            talk(f"  {len(found)} lines, {sum(parts for _, parts in found):g} parts")
        return found

    talk("One line at a time as material=parts; Enter alone ends the list.")
    return Lines(group("Base"), group("Addition above the base"))
