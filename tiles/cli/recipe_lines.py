"""The lines of a recipe as they come in: options, a CSV file, or a person asked one by one."""

import csv
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from tiles.cli.amounts import read_number, read_pair
from tiles.errors import InvalidValue

EXAMPLE = '"soda feldspar=32"'
_COLUMNS = ("material", "parts", "is_addition")
_SUMS = ("total", "totals", "sum", "subtotal")
_YES = ("yes", "y", "true", "1", "1.0", "x")
_NO = ("no", "n", "false", "0", "0.0", "")


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

    def refuse_impossible(self, own: tuple = ()) -> None:
        """Raise for parts that are absent or below 0, and for a material that comes twice.

        ``own`` are the materials with an analysis of the user's: two of them are never one.
        """
        from tiles.chemistry.recipes import read_recipe

        read_recipe(self.base, extras=self.extras, own=own)

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
        [read_pair(text, "--line", EXAMPLE, "parts") for text in lines],
        [read_pair(text, "--extra", '"tin oxide=4"', "parts") for text in extras],
    )


def from_csv(file: Path) -> Lines:
    """From a CSV file with the columns material, parts and, if need be, is_addition.

    Raises
    ------
    InvalidValue
        The file, a column or a value cannot be read; names the row.
    """
    from tiles.records.words import tidy_name

    groups: tuple[list, list] = ([], [])
    for number, row in _rows(file):
        where = f"{file.name}, row {number}"
        name = tidy_name(row["material"] or "")
        if not name:
            raise InvalidValue(f"{where}: no material.", "its name.", row=number)
        parts = read_number(row["parts"] or "", f"{where}: parts of {name!r}", "25", "parts")
        groups[_is_addition(row.get("is_addition"), where, number)].append((name, parts))
    return Lines(*groups)


def _rows(file: Path) -> list[tuple[int, dict]]:
    from tiles.chemistry._tables import parted_into_cells, text_in
    from tiles.cli.user_files import readable

    with readable(file, "a CSV file."):
        text = text_in(file)
    header = text.partition("\n")[0]
    mark = next((each for each in ("\t", ";") if each in header), ",")
    reader = csv.DictReader(text.splitlines(), delimiter=mark)
    with parted_into_cells(file.name):
        reader.fieldnames = _columns(file, reader.fieldnames or [])
        rows = [(reader.line_num, row) for row in reader if any(_cells(row))]
    for number, row in rows:
        _check_row(f"{file.name}, row {number}", number, row)
    return rows


def _cells(row: dict) -> list[str]:
    """What stands in a row, beyond its last column too."""
    inside = [each for column, each in row.items() if column is not None]
    return [(each or "").strip() for each in (*inside, *(row.get(None) or []))]


def _columns(file: Path, header: list[str | None]) -> list[str]:
    columns = [(each or "").strip().casefold() for each in header]
    hint = f"{','.join(_COLUMNS)} in the first row."
    if not {"material", "parts"} <= set(columns):
        told = ", ".join(filter(None, columns)) or "none"
        raise InvalidValue(f"{file.name} has the columns {told}.", hint)
    for each in filter(None, columns):
        if each not in _COLUMNS:
            raise InvalidValue(f"{file.name}: a column {each!r} is not known.", hint, value=each)
        if columns.count(each) > 1:
            raise InvalidValue(f"{file.name} has two columns {each!r}.", hint, value=each)
    return columns


def _check_row(where: str, number: int, row: dict) -> None:
    """Refuse what a shifted row or the sum below a list would bring in."""
    beyond = [each for each in (row.get(""), *(row.get(None) or [])) if each and each.strip()]
    if beyond:
        told = f"{where}: {beyond[0]!r} stands beyond the last column."
        raise InvalidValue(told, "one value for each column.", row=number)
    if (row["material"] or "").strip().rstrip(":").casefold() in _SUMS:
        told = f"{where}: {row['material'].strip()!r} is no material."
        raise InvalidValue(told, "the list without the row of its sum.", row=number)


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


def asked(own: tuple = ()) -> Lines:
    """Asked from the person at the keyboard, base first, then additions.

    Each line is checked beside those before it, so that none is lost for a later one. A material
    nobody has an analysis of is taken when the same line is typed again.
    """
    from tiles.cli.ask import ask
    from tiles.cli.common import talk
    from tiles.cli.prose import counted

    groups: tuple[list, list] = ([], [])
    doubted: set[str] = set()
    talk("One line at a time as material=parts; Enter alone ends the list.")
    for is_extra, question in enumerate(("Base", "Addition above the base")):
        found = groups[is_extra]
        while pair := ask(question, check=partial(_checked, groups, is_extra, own)):
            if _is_doubted(pair[0], own, doubted):
                continue
            found.append(pair)
            talk(f"  {counted(len(found), 'line')}, {sum(parts for _, parts in found):g} parts")
    return Lines(*groups)


def _checked(groups: tuple, is_extra: int, own: tuple, text: str) -> tuple[str, float]:
    from tiles.chemistry.recipes import read_recipe

    pair = read_pair(text, "line", EXAMPLE, "parts")
    groups = (*groups[:is_extra], [*groups[is_extra], pair], *groups[is_extra + 1 :])
    read_recipe(groups[0], extras=groups[1], own=own)
    return pair


def _is_doubted(name: str, own: tuple, doubted: set[str]) -> bool:
    """Whether to ask again for a material nobody has an analysis of; once for each name."""
    from tiles.chemistry.materials import fold, index, nearest_name
    from tiles.cli import caution
    from tiles.cli.common import talk

    known = index(own)
    if fold(name) in known or fold(name) in doubted:
        return False
    doubted.add(fold(name))
    close = nearest_name(name, known)
    meant = f", is it {close!r}?" if close else "."
    for told in caution.unknown_materials([name], own):
        talk(told)
    talk(f"No analysis of {name!r} is known{meant} Type the line again to keep it so.")
    return True
