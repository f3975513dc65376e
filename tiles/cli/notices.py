"""What is told of what was just stored: nothing of it is refused."""

from collections.abc import Iterable

from tiles.cli import alike, common
from tiles.cli.marks import runs
from tiles.errors import shell_line, shell_word


def tell_shelves(records: list) -> None:
    """One line for each shelf without a witness cone of its firing, and for tiles on none.

    And for tiles that say a cone of themselves that their firing gainsays.
    """
    from tiles.records import notices

    for line in notices.shelves_without_cone(records) + notices.on_no_shelf(records):
        common.talk(line)
    tell_own_cones(records)


def tell_own_cones(records: list) -> None:
    """One line for tiles that say a cone of themselves that their firing gainsays."""
    from tiles.records import notices

    for (firing, what, read, own), marks in notices.cones_read_otherwise(records).items():
        spoken, say = _spoken(marks), "says" if len(marks) == 1 else "say"
        common.talk(
            f"Check: {', '.join(spoken)} {say} cone {own}, but in {firing} {what} is {read}, and a "
            f"tile's own counts. If {own} is a slip: "
            f"tiles change {shell_line([*spoken, '--cone-reached', ''])}"
        )


def _spoken(marks: Iterable[str]) -> list[str]:
    """Marks in their order, those that follow each other as runs."""
    from tiles.records.mark_looks import natural_key

    return runs(sorted(marks, key=natural_key))


def tell_order(records: list) -> None:
    """One line for each underglaze or slip that lies over a glaze."""
    from tiles.records import notices

    for line in notices.colours_on_top(records):
        common.talk(f"Note: {line}")


def tell_load_cones(firings: list, *, was_asked: bool) -> None:
    """One line for each firing with a cone of the whole load that none of its shelves read.

    Not where a person ``was_asked`` about it a moment ago.
    """
    from tiles.records.load_cone import load_against_shelves, load_questions

    for name, firing in {each.name: each for each in firings}.items():
        said = load_against_shelves(firing)
        if said and not (was_asked and load_questions(firing)):
            common.talk(f"{name}: {said}")


def tell_off_target(firing, before=None) -> None:
    """One line for a firing whose witness cone tells another cone than the one aimed at.

    Not where the firing told the same ``before``.
    """
    from tiles.records.load_cone import off_target

    said = off_target(firing)
    if said and (before is None or said != off_target(before)):
        common.talk(f"{firing.name}: {said}")


def shelf_meant(shelf: str | None, db: str | None, *, create: bool = False) -> str | None:
    """The shelf on record that is much like one which is not; None for a known or new one.

    Asked for before the new one is stored; "-" and the like are refused as the name of one.
    """
    from tiles.queries.alike import shelf_alike
    from tiles.records.words import refuse_no_name

    if not shelf or shelf.isspace():  # refused with the tile
        return None
    refuse_no_name(shelf, "shelf")
    with (common.looking_up if create else common.reading)(db) as session:
        return shelf_alike(session, shelf)


def tell_shelf_meant(records: list, meant: str | None) -> None:
    """A line for a new shelf much like ``meant``, where no witness cone of the firing told it."""
    from tiles.records.notices import lacks_cone

    untold = [each for each in records if not lacks_cone(each)] if meant else []
    if untold:
        alike.tell_shelf(untold[0].shelf, meant, [each.mark for each in untold])


def tell_shelf_planned(before: list, shelf: str | None) -> None:
    """One line for each shelf that tiles were planned for and were not put on, with the way back.

    ``before`` are their records as they were planned.
    """
    planned: dict[str, list[str]] = {}
    for record in before:
        planned.setdefault(record.shelf, []).append(record.mark)
    for name, marks in planned.items():
        spoken, was = _spoken(marks), "was" if len(marks) == 1 else "were"
        common.talk(
            f"{', '.join(spoken)} {was} planned for shelf {name}, not {shelf}. To put back: "
            f"tiles change {shell_line(spoken)} --shelf {shell_word(name)}"
        )


def doubt_of_shelf(shelf: str | None, db: str | None) -> str:
    """One line for a shelf that is not on record where one much like it is; else empty."""
    meant = shelf_meant(shelf, db)
    said = f"Shelf {shelf!r} is new. If {meant!r} was meant: the same again with it."
    return said if meant else ""


def tell_bisques(records: list) -> None:
    """One line where tiles say another bisque cone than their bisque's witness, or have none.

    They have none where its shelves read several cones: no tile says on which it stood.
    """
    from tiles.records import notices

    for (bisque, read, own), marks in notices.bisques_read_otherwise(records).items():
        spoken, say = _spoken(marks), "says" if len(marks) == 1 else "say"
        common.talk(
            f"{bisque} read cone {read}, but {', '.join(spoken)} {say} bisque cone {own}, and a "
            f"tile's own counts. If {read} is right: "
            f"tiles change {shell_line([*spoken, '--bisque-cone', ''])}"
        )
    for (bisque, read), marks in notices.bisques_by_shelf(records).items():
        spoken = _spoken(marks)
        common.talk(
            f"{bisque} read cone {read} by shelf, and nothing tells on which shelf "
            f"{', '.join(spoken)} stood: no bisque cone counts. "
            f"To give one: tiles change {shell_line(spoken)} --bisque-cone CONE"
        )


def tell_sets_apart(loaded: list, db: str | None) -> None:
    """One line for each set of trials whose tiles lie on more than one shelf of a firing."""
    from tiles.records import models, notices, reading, store

    if not any(each.trial_of for each in loaded):
        return
    with common.reading(db) as session:
        firing = store.find(session, models.Firing, loaded[0].firing.name)
        records = reading.records_fired_in(session, firing)
    for line in notices.sets_apart(records):
        common.talk(line)


def tell_loaded_too_late(loaded: list, db: str | None) -> None:
    """One line for tiles put into a firing that was over before they can have been in it."""
    from tiles.records import models, notices, reading, store

    with common.reading(db) as session:
        firing = store.find(session, models.Firing, loaded[0].firing.name)
        beside = reading.records_fired_in(session, firing)
        of = sorted({each.trial_of for each in loaded if each.trial_of})
        failed = reading.find_records(session, of)
    for said, marks in notices.loaded_too_late(loaded, beside, failed).items():
        spoken = _spoken(marks)
        off = f"tiles change {shell_line([*spoken, '--firing', ''])}"
        was = "it was" if len(marks) == 1 else "they were"
        common.talk(f"Check: {', '.join(spoken)}: {said}. If {was} not in that load: {off}")


def tell_unfired(record) -> None:
    """One line for a tile that was looked at, though nothing says that it was fired."""
    if record.inspections and not record.firing and not record.cone_reached:
        mark = shell_word(record.mark)
        common.talk(
            "No firing and no cone on record, so no search by cone finds it. "
            f"To add one: tiles change {mark} --firing NAME"
        )


def tell_bare(record) -> None:
    """One line where some areas of a tile have a glaze and others none: NAME@2 is area 2 alone."""
    from diagnose.wording import listed

    bare = [str(area.number) for area in record.areas if not area.layers]
    if bare and len(bare) < len(record.areas):
        areas = f"area{'' if len(bare) == 1 else 's'} {listed(bare)}"
        common.talk(f"Note: nothing is on {areas} of {record.mark}, the bare clay.")


def tell_earlier_fault(record, look) -> None:
    """One line where a tile just found clean is not, by a look before; how to take a slip off."""
    from tiles.records.looks import day_of_look
    from tiles.records.spoken import spoken_defect

    seen = [each for each in record.inspections if each.defects]
    if look.defects or not seen:
        return
    day, which = seen[-1].inspected_on, day_of_look(record, seen[-1])
    faults = ", ".join(dict.fromkeys(spoken_defect(x, with_area=False) for x in seen[-1].defects))
    common.talk(
        f"The look of {day} ({faults}) stays. If it was a slip: "
        f"tiles change {shell_word(record.mark)} --forget-inspection {which}"
    )


def tell_kept_as_other(records: list, look) -> None:
    """One line where words on tiles mean the fault that a look just saw: two names for one."""
    from tiles.cli.doubts import own_words_doubted

    seen = {each.defect for each in look.defects}
    for words, fault, marks, mend in own_words_doubted(records):
        if fault in seen:
            stays = "stays" if len(marks) == 1 else "stay"
            common.talk(
                f"{words!r} of {', '.join(_spoken(marks))} {stays} beside it as other. "
                f"If that is the same {fault}: {mend}"
            )


def tell_days(records: list, given: str | None) -> None:
    """One line when the first look at tiles got today's date, long after their firing.

    A later look is meant to be late: crazing comes in weeks.
    """
    from tiles.records import notices

    late: dict[int, list[str]] = {}
    for record in records if given is None else ():
        days = notices.days_since_long_ago(record.firing)
        if len(record.inspections) == 1 and days:
            late.setdefault(days, []).append(record.mark)
    for days, marks in late.items():
        common.talk(
            f"The look is dated today, {days} days after the firing. If it was earlier: "
            f"tiles change {shell_line(runs(marks))} --inspected-on YYYY-MM-DD"
        )


def tell_over_label(records: list, db: str | None) -> None:
    """One line for each cone above the top of labels, a cadmium colour's first.

    Tiles are tested so on purpose: nothing is asked.
    """
    from tiles.cli import caution
    from tiles.records.far_labels import over_labels

    found = over_labels(records)
    if not found:
        return
    with common.reading(db) as session:
        cadmium = caution.held(session, caution.on_tiles(records)).get("cadmium", [])
    for cone, labels in found.items():
        colours = [name for name in labels if name in cadmium]
        told = [f"{name} ({labels[name]})" for name in dict.fromkeys([*colours, *labels])]
        burns = f" A cadmium colour burns out there: {', '.join(colours)} (common practice)."
        common.talk(
            f"Note: cone {cone} is above the top of the label of {', '.join(told)}."
            f"{burns if colours else ''}"
        )


def tell_mismatches(records: list) -> None:
    """One line for each glaze and clay of tiles that mature far apart."""
    from tiles.records import questions

    for line in dict.fromkeys(note for each in records for note in questions.mismatches(each)):
        common.talk(f"Note: {line}")


def tell_imported(records: list, db: str | None) -> None:
    """What to note of tiles that a file brought."""
    tell_shelves(records)
    firings = [each for record in records for each in (record.bisque_firing, record.firing)]
    tell_load_cones(list(filter(None, firings)), was_asked=False)
    tell_bisques(records)
    tell_order(records)
    tell_retired(records, db)


def tell_own_words(kept: Iterable[tuple[str, str]]) -> None:
    """What words kept as another fault most often mean, and how to write it: nobody was asked."""
    from tiles.records.notices import words_of_listed_faults

    for line in words_of_listed_faults(kept):
        common.talk(line)


def tell_missing_pictures(records: list, db: str | None) -> None:
    """One line where pictures of tiles are not in the folder: a file of records has their names."""
    from tiles.settings import database_url, photo_folder

    folder = photo_folder(database_url(db))
    files = {photo.file for each in records for photo in each.photos}
    if missing := sum(not (folder / file).exists() for file in files):
        are, them = ("picture is", "it") if missing == 1 else ("pictures are", "them")
        common.talk(
            f"{missing} {are} not in {folder}: copy {them} there from the folder of pictures "
            "beside the database that the file is from."
        )


def tell_retired(records: list, db: str | None) -> None:
    """One line where a clay, a glaze or a batch is retired: a slip, or one used up long ago."""
    from tiles.queries.summaries import retired
    from tiles.records import models

    layers = [layer for each in records for area in each.areas for layer in area.layers]
    bodies, glazes = {each.body.name for each in records}, {layer.glaze.name for layer in layers}
    with common.reading(db) as session:
        found = retired(session, models.ClayBody, bodies)
        found += retired(session, models.Glaze, glazes)
    used_up = (each for each in layers if each.batch and each.batch.is_retired)
    told = [*map(repr, found), *(f"batch {x.batch.name!r} of {x.glaze.name!r}" for x in used_up)]
    if told:
        told = list(dict.fromkeys(told))
        common.talk(f"Note: {', '.join(told)} {'is' if len(told) == 1 else 'are'} retired.")


def tell_new_marks(marks: list[str], db: str | None) -> None:
    """A line where new marks look like ones on record, and one for each other slip in them."""
    with common.reading(db) as session:
        alike.tell_marks(session, marks)
