"""A name of several words that was typed without the quotes a shell wants around it."""

from collections.abc import Iterator, Sequence

from tiles.errors import TilesError, shell_line

MOST_WORDS = 5
"""Words of a name that is looked for."""


def hint(arguments: Sequence[str], refused: str | None = None) -> str:
    """The command with quotes, where words typed apart belong together.

    They do where they are a mark or name on record, or follow an option that takes one value.

    Parameters
    ----------
    arguments : sequence of str
        The command line.
    refused : str, optional
        The one word that was refused, which must be part of a name on record.

    Returns
    -------
    str
        What to try; empty where no words are such a name, or no records can be read.
    """
    words = list(_without_db(arguments))
    try:
        found = _on_record(words)
    except TilesError:
        return ""
    if refused and not any(refused in words[run.start : run.stop] for _what, _name, run in found):
        return ""
    taken = {at for _what, _name, run in found for at in run}
    found += [each for each in _values(words) if not taken & set(each[2])]
    if not found:
        return ""
    for _what, name, run in sorted(found, key=lambda each: -each[2].start):
        words[run.start : run.stop] = [name]
    command = shell_line(["tiles", *words])
    return f"'{command}': a {found[0][0]} of several words goes in quotes."


def _without_db(arguments: Sequence[str]) -> Iterator[str]:
    """The words without ``--db``, which every command told gets anyhow."""
    words = iter(arguments)
    for word in words:
        if word == "--db":
            next(words, None)
        elif not word.startswith("--db="):
            yield word


def _runs(words: list[str]) -> Iterator[range]:
    """Where words stand that may be one name, options never among them; the longest first."""
    for many in range(MOST_WORDS, 1, -1):
        for at in range(1, len(words) - many + 1):
            if not any(word.startswith("-") for word in words[at : at + many]):
                yield range(at, at + many)


def _on_record(words: list[str]) -> list[tuple[str, str, range]]:
    """The runs that are a mark or name on record: what it is, the name as it stands, the run."""
    from tiles.cli import common, same_db

    found: list[tuple[str, str, range]] = []
    with common.reading(same_db.typed()) as session:
        for run in _runs(words):
            is_free = not any(set(run) & set(other) for _what, _name, other in found)
            known = is_free and _known(session, " ".join(words[run.start : run.stop]))
            if known:
                found.append((*known, run))
    return found


def _values(words: list[str]) -> Iterator[tuple[str, str, range]]:
    """The runs behind an option that takes one value, and behind which no argument can stand.

    That is so where the command takes none, or where its arguments stand before the options.
    """
    from tiles.cli.app import command_for

    command, at = command_for(words), 0
    while at < len(words) and words[at] in getattr(command, "commands", {}):
        command, at = command.commands[words[at]], at + 1
    is_argument = [each.param_type_name == "argument" for each in command.params]
    if any(is_argument) and (at >= len(words) or words[at].startswith("-")):
        return
    valued = {
        name
        for each, is_bare in zip(command.params, is_argument, strict=True)
        if not is_bare and not each.is_flag
        for name in each.opts
    }
    for start, word in enumerate(words, 1):
        stop = start
        while stop < len(words) and not words[stop].startswith("-"):
            stop += 1
        if word in valued and stop - start > 1:
            yield "value", " ".join(words[start:stop]), range(start, stop)


def _known(session, text: str) -> tuple[str, str] | None:
    """What a text names, and how that is spelt on record; a layer with its coats stays one."""
    from tiles.records import models, store

    if mark := store.has_mark(session, text):
        return "mark", mark
    named = {"firing": models.Firing, "glaze": models.Glaze, "body": models.ClayBody}
    for what, model in (named | {"kiln": models.Kiln}).items():
        if row := store.look_up(session, model, text):
            return what, row.name
    glaze, is_layer, coats = text.rpartition("=")
    row = store.look_up(session, models.Glaze, glaze) if is_layer else None
    return ("glaze", f"{row.name}={coats}") if row else None
