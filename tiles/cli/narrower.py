"""How to narrow a listing that is longer than the screen it scrolled over."""

from tiles.cli.common import is_screen
from tiles.cli.prose import most_lines


def narrower(search, rows: int, *more: str) -> str:
    """Which options would leave fewer rows, of those not given; "" where all stand on the screen.

    Only for a person: what goes to a file or a pipe is wanted whole.

    Parameters
    ----------
    search : Search
        What was asked for.
    rows : int
        The rows that are shown.
    more : str
        Further options of the command that narrow it.
    """
    if not is_screen() or rows <= most_lines():
        return ""
    given = {
        "--glaze": search.glazes,
        "--body": search.body,
        "--cone": search.cone_from or search.cone_to,
        "--since": search.since or search.until,
    }
    options = [option for option, value in given.items() if not value]
    return f"Fewer: {', '.join([*options, *more])}"
