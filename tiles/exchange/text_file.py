"""The text of a file that is to be imported."""

from pathlib import Path

from tiles.chemistry._tables import text_in
from tiles.errors import InvalidValue

_WORKBOOKS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")
"""How the files of spreadsheet programs begin: a zip, and what was usual before."""


def read_text(file: Path, kind: str) -> str:
    """All of a UTF-8 file, or one in UTF-16 that says so, without its byte-order mark.

    Parameters
    ----------
    file : Path
        The file.
    kind : str
        What to save it as where it is something else: "CSV UTF-8".

    Raises
    ------
    InvalidValue
        It is missing, a workbook or other than UTF-8.
    """
    try:
        return text_in(file)
    except OSError as error:
        raise InvalidValue(f"{file} cannot be read: {error.strerror}.", "another path.") from error
    except UnicodeDecodeError as error:
        refuse_workbook(file)
        raise InvalidValue(f"{file} is not UTF-8 text.", f"save it as {kind}.") from error


def refuse_workbook(file: Path) -> None:
    """Of a workbook no sheet is read: there may be several, and its cells are no text.

    Raises
    ------
    InvalidValue
        It is one.
    """
    if file.is_file() and file.read_bytes().startswith(_WORKBOOKS):
        hint = "save its sheet as CSV UTF-8, and import that file."
        raise InvalidValue(f"{file} is a workbook, not text.", hint)
