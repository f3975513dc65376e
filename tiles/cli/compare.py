"""``tiles compare``: tiles alike but for one thing, counted and tested."""

from typing import Annotated

import typer

from tiles.cli import asked, common, output, stretch
from tiles.errors import InvalidValue

ON_SCREEN, MOST_LEFT_OUT = 6, 3
MOST_GROUPS = 12
"""Of more groups those in which nothing failed are only counted."""
MOST_SHOWN, MOST_NAMED = 16, 6
"""Of more groups those with most faults stand in the table, and so many in a sentence (estimates);
--all has all."""
CSV_COLUMNS = ("defect", "group", "failed", "tiles", "p_value")

_AS_IN_SEARCH = ("coats", "kiln", "batch", "since", "until", "note")


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("compare")(compare)


@asked.spread
def compare(
    *,
    by: Annotated[
        str,
        typer.Option(
            help="What they differ in: body, under, coats under, under put on, over (the top "
            "glaze), order (of the layers), coats, thickness, method, applied on, beneath, "
            "surface, form, stood, recipe, batch, bisque cone, bisque firing, bisque rate, bisque "
            "hold, kiln, shelf, firing, year, month, target, cone, hold, rate, opened, "
            "atmosphere; or a clue."
        ),
    ],
    glaze: Annotated[str | None, typer.Option(help="Only areas with this glaze.")] = None,
    body: Annotated[str | None, typer.Option(help="Only tiles of this body.")] = None,
    coats: Annotated[int | None, typer.Option(min=1, help="Only with so many coats.")] = None,
    cone: Annotated[
        str | None, typer.Option(help="Only this cone reached, or a range such as 06-04.")
    ] = None,
    bisque_cone: Annotated[
        str | None, typer.Option(help="Only this cone of the bisque, or a range.")
    ] = None,
    kiln: Annotated[str | None, typer.Option(help="Only from this kiln.")] = None,
    batch: Annotated[str | None, typer.Option(help="Only with this batch of a glaze.")] = None,
    noted: asked.Noted,
    defect: Annotated[str | None, typer.Option(help="Only this defect.")] = None,
    show_all: Annotated[
        bool, typer.Option("--all", help="Every group, however many there are.")
    ] = False,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
    db: common.Db = None,
) -> None:
    """Compare inspected tiles that are alike but for one thing, with an exact test, in words.

    Example: tiles compare --glaze "pond green" --by coats

    Of a fault that needs two things hold to one of them: --coats 3 --by "bisque cone"
    """
    from diagnose.comparing import comparison
    from tiles.records import words

    output.refuse_two_forms(as_json=as_json, as_csv=as_csv)
    by = _read_by(by)
    wanted = words.read_word(defect, words.DEFECTS, "defect") if defect else None
    held = {"coats": coats, "cone": cone, "bisque cone": bisque_cone, "kiln": kiln, "batch": batch}
    held |= noted.searched
    held = {name: value for name, value in held.items() if value is not None}
    _refuse_by(by, held, glaze)
    records, glaze, body, only = _records(glaze, body, held, db)
    named = None if show_all or as_json or as_csv else MOST_NAMED
    of = {"glaze": glaze, "body": body, "only": only}
    found = comparison.compare(records, by, defect=wanted, **of, most_named=named)
    if as_json:
        said = {name: each if isinstance(each, int) else str(each) for name, each in held.items()}
        output.print_json({"glaze": glaze, "body": body, "held_to": said} | found.as_dict())
    elif as_csv:
        how = {"keys": CSV_COLUMNS, "as_json": False, "as_csv": True}
        output.rows(_rows(found), {}, empty="Nothing to compare.", **how)
    else:
        most = None if show_all else MOST_SHOWN
        print("\n".join(_lines(found, _what(glaze, body, held), most)))


def _refuse_by(by: str, held: dict, glaze: str | None) -> None:
    """Refuse to compare by what is held alike, or by batches that may be of several glazes."""
    if by in held:
        raise InvalidValue(
            f"--by {by} compares what --{by.replace(' ', '-')} holds alike.", "one of the two."
        )
    if by == "batch" and not glaze:
        raise InvalidValue("--by batch names no glaze: two may have batches of one name.",
                           "--glaze NAME as well.")  # fmt: skip


def _read_by(by: str) -> str:
    """The thing to compare by as it is known: a factor, or a clue that is no look of the fault."""
    from diagnose.comparing.factors import ALSO_CALLED, FACTORS
    from tiles.records import words
    from tiles.records.clues import clues

    folded = words.fold(by)
    clue = clues().get(folded.replace(" ", "_"))
    if clue and clue.group != "look":
        return clue.name
    return words.read_word(ALSO_CALLED.get(folded, by), tuple(FACTORS), "thing to compare by")


def _records(
    glaze: str | None, body: str | None, held: dict, db: str | None
) -> tuple[list, str | None, str | None, set[tuple[str, int]]]:
    """The tiles asked for, the names as they are on record, and which areas count."""
    from tiles.queries.search import Search, records_of, run
    from tiles.records import models
    from tiles.records.store import belongings

    with common.reading(db) as session:
        glaze = glaze and belongings.find(session, models.Glaze, glaze).name
        body = body and belongings.find(session, models.ClayBody, body).name
        search = Search(
            body=body,
            glazes=(glaze,) if glaze else (),
            is_inspected=True,
            **asked.cones(held.get("cone"), ""),
            **asked.cones(held.get("bisque cone"), "bisque_"),
            **{name: held.get(name) for name in _AS_IN_SEARCH},
        )
        only = {(each.mark, each.area) for each in run(session, search)}
        return records_of(session, search), glaze, body, only


def _what(glaze: str | None, body: str | None, held: dict) -> str:
    """The tiles that are compared: "Kelp on red clay with 3 coats"."""
    from tiles.cli.prose import counted

    what = " on ".join(each for each in (glaze, body) if each) or "All tiles"
    said = {
        "coats": lambda many: f"with {counted(many, 'coat')}",
        "cone": lambda cone: f"at cone {cone}",
        "bisque cone": lambda cone: f"on a bisque at cone {cone}",
        "kiln": lambda name: f"from {name}",
        "batch": lambda name: f"of batch {name}",
    }
    told = (said[name](value) for name, value in held.items() if name in said)
    time = stretch.said(*(held.get(name) for name in ("since", "until", "note")))
    return " ".join([what, *told, *([time] if time else [])])


def _rows(found) -> list[dict]:
    return [
        dict(zip(CSV_COLUMNS, (each.defect, *of_group, each.p_value), strict=True))
        for each in found.outcomes
        for of_group in zip(found.groups, each.failed, each.tiles, strict=True)
    ]


def _lines(found, what: str, most: int | None = MOST_SHOWN) -> list[str]:
    """What was set beside each other, what differs, then the counts of ``most`` groups, or all."""
    from diagnose.wording import listed
    from tiles.cli.prose import counted, wrap

    if not found.sets:
        return wrap(f"{what} by {found.by}: {_why_none(found)}")
    said = f"{what} by {found.by}: {_counts(found)} in {counted(found.sets, 'set')} "
    said += f"alike in {listed(found.alike)}."
    if found.let_go:
        said += f" Not alike, for want of tiles: {listed(found.let_go)}. One of these may be why."
    lines = wrap(said)
    lines += [
        line for name, coats in found.coats_under.items() for line in wrap(_apart(name, coats))
    ]
    if not found.outcomes:
        out = wrap(_left_out(found))
        lines += ["", *_table(found, most), "", "All of them came out clean."]
        return [*lines, *([""] * bool(out)), *out]
    lines += [""]
    for said in _verdicts(found.outcomes[:ON_SCREEN]):
        lines += wrap(said, "  ")
    lines += ["", *_table(found, most), *_left_off(found)]
    return [*lines, "", *wrap(_small_print(found))]


def _why_none(found) -> str:
    """Why nothing can be compared: no tiles, all alike in what is asked about, or no like ones."""
    from tiles.records.clues import clues

    pair = "Fire a pair: 'tiles plan' hands out marks."
    clue = found.by.replace(" ", "_")
    if found.blank and clue in clues():
        pair = (
            f"To record it on the others as well would help: 'tiles change MARK --clue {clue}=no' "
            f"(or yes). {pair}"
        )
    if not found.alone + found.blank:
        return f"no such tile was inspected. {pair}"
    groups = [each.group for each in found.groups_left_out]
    if len(groups) == 1:
        said = f"it is {groups[0]} on all of them, so nothing can be compared."
        rest = f"Of {found.blank} more it is not recorded{_beneath(found)}. {pair}"
        return f"{said} {rest}" if found.blank else said
    said = f"no two inspected tiles are alike but for {found.by}."
    return " ".join(part for part in (said, _left_out(found), pair) if part)


def _apart(name: str, coats: list[float]) -> str:
    """That one group holds several numbers of coats beneath, and how to set them apart."""
    from diagnose.wording import listed

    many = listed([f"{each:g}" for each in coats])
    return f'{name} lies there in {many} coats: --by "coats under" sets them apart.'


def _counts(found) -> str:
    """How many tiles, and how often they count where their areas differ."""
    from tiles.cli.prose import counted

    tiles, total = counted(found.different_tiles, "tile"), sum(found.tiles)
    several = f", counted {total} times because areas of one tile differ,"
    return tiles if total == found.different_tiles else tiles + several


def _verdicts(outcomes: list) -> list[str]:
    """Those that differ one by one, those that chance makes more often than HINT in one breath."""
    from diagnose.comparing.comparison_words import HINT
    from diagnose.wording import listed

    plain = [
        each
        for each in outcomes
        if each.p_value is not None and each.p_value > HINT and not each.early
    ]
    said = [each.say for each in outcomes if each not in plain]
    if len(plain) == 1:
        said.append(plain[0].say)
    elif plain:
        names = listed([each.defect for each in plain])
        said.append(f"Nothing to tell of {names}: chance alone easily makes such differences.")
    return said


def _table(found, most: int | None) -> list[str]:
    """One line for each defect and one column for each group; turned where it is too wide.

    Turned, the last defects are left out where they do not fit.
    """
    from diagnose.wording import listed
    from tiles.cli.prose import width, wrap

    shown = found.outcomes[:ON_SCREEN]
    failed = [at for at in range(len(found.groups)) if any(each.failed[at] for each in shown)]
    is_many = failed and most and len(found.groups) > MOST_GROUPS
    places = failed if is_many else range(len(found.groups))
    sound = len(found.groups) - len(places)
    strongest = sorted(places, key=lambda at: -sum(each.failed[at] for each in shown))[:most]
    left, places = len(places) - len(strongest), sorted(strongest)
    rows = [
        [each.defect, *(_of(each.failed[at], each.tiles[at]) for at in places)] for each in shown
    ] or [["tiles", *(str(found.tiles[at]) for at in places)]]
    table = [["", *(found.groups[at] for at in places)], *rows]
    of_all = f"The {most} with most faults" if failed else f"{most} of {len(found.groups)} groups"
    more = wrap(f"({of_all}; --all has {left} more.)") if left else []
    more += wrap(f"(None of these on {sound} more: --all.)") if sound else []
    lines = _aligned(table)
    if _widest(lines) <= width():
        return [*lines, *more]
    no_room = []
    while _widest(lines := _aligned(list(zip(*table, strict=True)))) > width() and len(table) > 2:
        no_room.insert(0, table.pop()[0])
    return [*lines, *(wrap(f"(No room for {listed(no_room)}.)") if no_room else []), *more]


def _of(failed: int, tiles: int) -> str:
    """Failed of all; a dash where none was looked at late enough."""
    return f"{failed} of {tiles}" if tiles else "-"


def _widest(lines: list[str]) -> int:
    return max(map(len, lines))


def _left_off(found) -> list[str]:
    """The defects for which there is no room here."""
    from tiles.cli.prose import counted

    more = len(found.outcomes) - ON_SCREEN
    return ["", f"{counted(more, 'more defect')} came on them: --defect, or --json."] * (more > 0)


def _aligned(rows: list) -> list[str]:
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    return [
        "  ".join(f"{text:<{wide}}" for text, wide in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _small_print(found) -> str:
    parts = [_left_out(found)]
    if len(found.outcomes) > 1:
        many = len(found.outcomes)
        parts.append(f"{many} defects were looked at; about 1 in 20 seems clear by luck alone.")
    parts.append("What goes with a defect need not cause it: a pair fired side by side tells.")
    return " ".join(part for part in parts if part)


def _left_out(found) -> str:
    """Who was not compared and what faults they had; whole groups by name."""
    parts = []
    if found.alone:
        parts.append(f"{found.alone} with no like tile to set beside")
    if found.blank:
        parts.append(f"{found.blank} without {found.by} recorded")
    if not parts:
        return ""
    said = f"Left out: {', '.join(parts)}"
    if found.failed_left_out:
        faults = [f"{defect} on {many}" for defect, many in found.failed_left_out.items()]
        of = f"of these {found.alone + found.blank}," if len(parts) > 1 else "among them"
        said += f" ({of} {_some(faults, 'faults')})"
    said += _beneath(found)
    if not found.groups_left_out or not found.sets:
        return f"{said}."
    worst = sorted(found.groups_left_out, key=lambda each: -sum(each.failed.values()))
    groups = [_spoken_group(each) for each in worst]
    return f"{said}. Nothing is told of {_some(groups, 'groups')}."


def _beneath(found) -> str:
    """Of how many it is known of the layer beneath; "" where that is not asked."""
    many = found.blank_but_under
    said = f'. Of {many} it is recorded for the layer beneath: --by "under put on" compares those'
    return said if many else ""


def _some(names: list[str], of: str) -> str:
    """The first names, and how many more there are."""
    from diagnose.wording import listed

    more = len(names) - MOST_LEFT_OUT
    return listed([*names[:MOST_LEFT_OUT], *([f"{more} more {of}"] if more > 0 else [])])


def _spoken_group(group) -> str:
    """A group that was left out with its most frequent fault: "B3 (12 tiles, pinholes on 7)"."""
    from tiles.cli.prose import counted

    fault = next((f", {defect} on {many}" for defect, many in group.failed.items()), "")
    return f"{group.group} ({counted(group.tiles, 'tile')}{fault})"
