"""The commands that bodies, glazes, kilns and firings share: list, show, rename, merge, remove."""

from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import alike, common, notices, output, split
from tiles.cli.marks import runs
from tiles.cli.merge_undone import along, apart, held_by, undo
from tiles.cli.record import keep_beside, put_back

_ADDERS = {"ClayBody": "add_body", "Glaze": "add_glaze", "Firing": "add_firing"}
Names = Annotated[list[str], typer.Argument(help="One name, or several.")]
MOST_TOLD = 8
"""Runs of marks told of a merge where a file names all."""


def add(table: str, values: dict, db: str | None, *, yes: bool = False) -> None:
    """Check and store a new body, glaze or firing, asking about what is unlikely of it."""
    from tiles.records import forms, models, store, words
    from tiles.records.layered import refuse_layers
    from tiles.records.store.belongings import FORMS

    form, _reader = FORMS[getattr(models, table)]
    record = forms.read(form, _with_ends(values, common.cone_range))
    what = "body" if table == "ClayBody" else table.casefold()
    words.refuse_no_name(record.name, what, confirmed=yes)
    if table == "Glaze":
        refuse_layers(record.name)

    def write(confirmed: bool) -> list:
        with common.writing(db) as session:
            how = {} if table == "ClayBody" else {"ask": not confirmed}
            getattr(store, _ADDERS[table])(session, record, **how)
            return very_like(session, table, record.name)

    like = common.confirmed(write, yes=yes)
    print(f"{record.name} is on record.")
    alike.tell(like)


def very_like(session, table: str, name: str) -> list:
    """The name that a new one is very like, and perhaps a slip of the pen for."""
    from tiles.queries.alike import names_alike
    from tiles.records import models
    from tiles.records.store.belongings import noun
    from tiles.records.store.named import Added

    new = [Added(noun(getattr(models, table)), name)]
    return [each for each in names_alike(session, new) if not each.is_asked]


def change(
    table: str,
    name: str,
    values: dict,
    db: str | None,
    *,
    yes: bool = False,
    held: Callable[..., dict] | None = None,
) -> None:
    """Change the fields that were given; an empty text clears one.

    ``held`` gives those that depend on what is on record, in the transaction that writes them.
    """
    from tiles.records import models, store
    from tiles.records.store.belongings import FORMS

    given = to_change(_with_ends(values, _ends_to_change))
    model = getattr(models, table)
    _form, read = FORMS[model]

    def write(confirmed: bool) -> tuple:
        with common.writing(db) as session:
            before = read(store.find(session, model, name))
            all_given = given | (held(session) if held else {})
            return before, read(store.change(session, model, name, all_given, confirmed=confirmed))

    before, after = common.confirmed(write, yes=yes)
    tell_changed(after.name, before, after, given)


def tell_changed(name: str, before, after, given: Iterable[str]) -> list[str]:
    """One line on the fields that were given; gives those that are not as they were before."""
    changed = [key for key in given if getattr(before, key) != getattr(after, key)]
    same = [key for key in given if key not in changed]
    told = [f"changed {', '.join(changed)}"] if changed else []
    if same:
        told.append(f"{', '.join(same)} {'was' if len(same) == 1 else 'were'} so already")
    print(f"{name}: {'; '.join(told)}{'' if changed else '; nothing was changed'}.")
    return changed


def to_change(values: dict) -> dict:
    """The fields that were given: None for one to clear.

    Raises
    ------
    InvalidValue
        None was.
    """
    from tiles.errors import InvalidValue

    given = {key: value for key, value in values.items() if value is not None}
    if not given:
        raise InvalidValue("nothing to change.", "one of the options of 'change --help'.")
    return {key: None if value == "" else value for key, value in given.items()}


def _with_ends(values: dict, read: Callable[[str | None], dict[str, str]]) -> dict:
    """The cones of a label as the two ends of their range."""
    plain = {key: value for key, value in values.items() if key != "cones"}
    return plain | read(values.get("cones"))


def _ends_to_change(text: str | None) -> dict[str, str]:
    """An empty text clears both ends."""
    return {"cone_low": "", "cone_high": ""} if text == "" else common.cone_range(text)


def add_common(
    sub: typer.Typer,
    table: str,
    columns: dict[str, str],
    *,
    can_retire: bool,
    learned: Callable[[str, str | None], dict],
    spoken: Callable[[dict], list[str]],
    listed: Callable[[list[dict], str | None], None] | None = None,
    tabled: Callable[[dict], dict] | None = None,
) -> None:
    """Add list, show, rename, merge, remove and, where it makes sense, split, retire and restore.

    ``learned`` adds to what 'show' knows of one by its name and database; ``spoken`` says it.
    ``listed`` adds to the rows of 'list'; ``tabled`` is one of them as the table has it.
    """

    def list_all(
        as_json: common.AsJson = False,
        as_csv: common.AsCsv = False,
        limit: common.Limit = None,
        db: common.Db = None,
    ) -> None:
        """List those on record, with how many tiles each has."""
        found = _rows(table, db)
        if listed:
            listed(found, db)
        if tabled and not (as_json or as_csv):
            found = list(map(tabled, found))
        how = {"as_json": as_json, "as_csv": as_csv, "limit": limit, "may_go": True}
        output.rows(found, columns, empty="None yet.", **how)

    def show(name: str, as_json: common.AsJson = False, db: common.Db = None) -> None:
        """Show all that is recorded of one."""
        row = next(iter(_rows(table, db, name)))
        more = learned(name, db)
        if as_json:
            output.print_json(row | more)
            return
        for key, value in row.items():
            if key not in ("witness_cones", "cone_low", "cone_high") and output.cell(value):
                name = "witness cones" if key == "read" else key.replace("_", " ")
                print("\n".join(output.facts(name, output.cell(value))))
        for line in spoken(more):
            print(line)

    def rename(name: str, new_name: str, db: common.Db = None) -> None:
        """Give it another name; its tiles stay with it."""
        from tiles.records import models, store

        with common.writing(db) as session:
            new_name = store.rename(session, getattr(models, table), name, new_name).name
        print(f"{name} is now {new_name}.")

    def merge(
        name: Annotated[str, typer.Argument(help="The one that leaves the record.")],
        into: Annotated[str, typer.Argument(help="The one that stays.")],
        yes: common.Yes = False,
        db: common.Db = None,
    ) -> None:
        """Make one of two names for the same thing; the first leaves the record.

        A file beside the database holds its tiles as they were; of a kiln a command parts the two.
        """
        _merge(table, name, into, db, yes=yes)

    def remove(name: str, yes: common.Yes = False, db: common.Db = None) -> None:
        """Take off the record what was added by mistake, if nothing on record uses it."""
        from tiles.records import models, store

        take_off(partial(store.remove, model=getattr(models, table), name=name), db, yes=yes)

    def retire(names: Names, db: common.Db = None) -> None:
        """Mark it, or several, as no longer in use; the tiles and their names stay."""
        _set_retired(table, names, True, db)

    def restore(names: Names, db: common.Db = None) -> None:
        """Mark it, or several, as in use again."""
        _set_retired(table, names, False, db)

    sub.command("list")(list_all)
    sub.command("show")(show)
    sub.command("rename")(rename)
    sub.command("merge")(merge)
    sub.command("remove")(remove)
    if table != "Firing":
        split.add_to(sub, table)
    if can_retire:
        sub.command("retire")(retire)
        sub.command("restore")(restore)


def _merge(table: str, name: str, into: str, db: str | None, *, yes: bool) -> None:
    """Make one of the two, and tell what that concerns and how to part them again."""
    from tiles.exchange.studio import former_names, of_one
    from tiles.records import models, reading, store
    from tiles.records.store.belongings import FORMS

    model = getattr(models, table)
    _form, read = FORMS[model]

    def write(confirmed: bool):
        with common.writing(db) as session:
            rows = [store.find(session, model, each) for each in (name, into)]
            gone, before = map(read, rows)
            parts, held = of_one(rows[0]), held_by(rows[1])
            old = former_names(session, model)
            named = store.concerned(session, model, name)
            batches = store.retired_of_one(*rows)
            records = [] if table == "Kiln" else reading.find_records(session, named)
            row = store.merge(session, model, name, into, confirmed=confirmed)
            kept, called = read(row), former_names(session, model)
            parts.former_names = [each for each in old if each not in called]
            parts.no_longer = [each for each in called if each not in old]
            is_split = table == "Kiln" and named
            file = None if is_split else keep_beside(records, db, "merged", parts)[0]
            return gone, before, kept, named, file, batches, along(row, held)

    gone, before, kept, named, file, batches, went_along = common.confirmed(write, yes=yes)
    is_retired = getattr(kept, "is_retired", False)
    print(f"{name} is now part of {kept.name}{', which is retired' if is_retired else ''}.")
    if taken := store.taken_over(before, kept):
        common.talk(f"Taken over from {name}: {', '.join(taken)}.")
    for each in batches:
        common.talk(each)
    again = [put_back(file, "--replace"), *went_along] if file else apart(gone, kept, named)
    _tell_merged(named, file, again, undo(model, before, kept))
    if table == "Firing":
        notices.tell_load_cones([kept], was_asked=not yes)


def _tell_merged(named: list[str], file: Path | None, again: list[str], undone: str) -> None:
    """What a merge made of another one, and how to part the two again.

    All of it in the order of the marks; a file that holds the tiles names the rest of a long list.
    """
    from tiles.records.mark_looks import natural_key

    told = runs(sorted(named, key=natural_key))
    if file and len(told) > MOST_TOLD:
        more = f", {len(named)} tiles in all, each named in {file.name}"
        common.talk(f"That concerns {', '.join(told[:MOST_TOLD])} and more{more}.")
    elif told:
        common.talk(f"That concerns {', '.join(told)}.")
    common.talk(f"To part them again: {again[0]}")
    for each in again[1:]:
        common.talk(f"Then: {each}")
    if undone:
        common.talk(f"Then take off what was taken over: {undone}")


def take_off(remove: Callable[..., str], db: str | None, *, yes: bool) -> None:
    """Have the store take something off the record, asking first."""

    def write(confirmed: bool) -> str:
        with common.writing(db, create=False) as session:
            return remove(session, confirmed=confirmed)

    print(f"{common.confirmed(write, yes=yes)} is off the record.")


def _set_retired(table: str, names: list[str], is_retired: bool, db: str | None) -> None:
    """Of several all or none."""
    from tiles.records import models, store

    model = getattr(models, table)
    with common.writing(db) as session:
        rows = [store.retire(session, model, name, is_retired) for name in names]
        told = [row.name for row in rows]
    for name in dict.fromkeys(told):
        print(f"{name} is {'retired; its tiles stay on record' if is_retired else 'in use'}.")


def _rows(table: str, db: str | None, name: str | None = None) -> list[dict]:
    from tiles.queries.summaries import with_tile_counts
    from tiles.records import models, store
    from tiles.records.spoken import spoken_witness
    from tiles.records.store.belongings import FORMS

    model = getattr(models, table)
    _form, read = FORMS[model]
    with common.reading(db) as session:
        only = store.find(session, model, name) if name is not None else None
        found = []
        for row, tiles in with_tile_counts(session, model, only):
            record = read(row)
            values = record.model_dump()
            if "cone_low" in values:
                values["cones"] = range_cell(values)
            values["tiles"] = tiles
            if table == "Firing":
                values["read"] = list(map(spoken_witness, record.witness_cones))
            if "is_retired" in values:
                values["retired"] = values.pop("is_retired")
            found.append(values)
    return found


def range_cell(values: dict) -> str:
    """A label's cone range as a table shows it: "06 to 04"."""
    ends = dict.fromkeys(each for each in (values.get("cone_low"), values.get("cone_high")) if each)
    return " to ".join(ends)
