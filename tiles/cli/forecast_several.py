"""``tiles forecast`` of several tiles: a line for each with what stands out, to compare them."""

from collections.abc import Iterator

from tiles.cli.forecast_counts import came_on_own, counts
from tiles.cli.forecast_own import SEEN_OFTEN, chance_said, count_said, goes_first
from tiles.cli.forecast_text import minded, more_than_usual, stands_out
from tiles.cli.forecast_untold import MOST_FEARED, is_feared
from tiles.cli.prose import beside, wrap
from tiles.cli.same_db import with_db
from tiles.errors import shell_word

NOTHING = "nothing stands out"


def screen(found: list[tuple], *, defect: str | None, note: str = "") -> list[str]:
    """The tiles in the order given, and how to see one in full.

    ``defect`` is the one that was asked for: its chance is told whether it stands out or not.
    ``note`` is what must be known of all own tiles.
    """
    width = max(len(record.mark) for record, _ in found)
    lines = [*wrap(note), ""] if note else []
    for record, areas in found:
        lines += beside(f"{record.mark:<{width}}  ", _tile(record, areas, defect))
    lines += _catches(found)
    full = f"In full, with ranges: tiles forecast {shell_word(found[0][0].mark)}."
    return [*lines, "", *wrap(f"{with_db(full)} No forecast shows that a glaze is safe for food.")]


def _catches(found: list[tuple]) -> list[str]:
    """What goes below the tiles of which own ones made so ran."""
    from diagnose.next_tiles.safety import CATCHES

    marks = [
        record.mark
        for record, areas in found
        if any(each.defect == "running" and each.pair.seen and goes_first(each)
               for of_area in areas if not of_area.stop for each in of_area.forecasts)
    ]  # fmt: skip
    return wrap(f"{', '.join(marks)}: {CATCHES}") if marks else []


def _tile(record, areas: list, defect: str | None) -> str:
    """What it is and what may become of each of its areas."""
    from tiles.records.spoken import spoken_layers

    said = []
    for of_area, area in zip(areas, record.areas, strict=True):
        which = f"area {area.number}, " if len(areas) > 1 else ""
        told = "; ".join(_area(of_area, defect)) or NOTHING
        said.append(f"{which}{spoken_layers(area.layers)}: {told}")
    return f"{record.body.name}, {' | '.join(said)}."


def _area(of_area, defect: str | None) -> Iterator[str]:
    if of_area.stop:
        yield f"stop: {of_area.stop[0].removesuffix('.')}"
        return
    told = [each for each in of_area.forecasts if each.chance is not None]
    untold = [each for each in of_area.forecasts if each.chance is None]
    if of_area.is_bare and not of_area.forecasts:
        yield "only a glaze can have it"
    if of_area.unlike:
        yield f"unlike anything on record ({', '.join(of_area.unlike)})"
    for each in told if defect else more_than_usual(told):
        near = f" (nearest: {each.pair.near})" if each.pair.near_seen >= SEEN_OFTEN else ""
        count = f" (your tiles, {count_said(each)})" if goes_first(each) else near
        count += f", but {each.by_fit}" if each.by_fit else ""
        yield f"{each.defect} {chance_said(each.chance, of_area.tiles)}{count}"
    for each in [] if defect else minded(told):
        yield f"mind {each.defect}: {_made_so(each.made_so)}"
    like = []
    for each in untold:
        seen, many = came_on_own(each)
        if goes_first(each):
            yield f"your tiles, {count_said(each)}"
        elif each.by_fit:
            yield each.by_fit
        elif stands_out(each):
            is_near = not each.alike_areas and not each.layers_areas
            yield f"{each.defect} {f'(nearest: {each.pair.near})' if is_near else counts(each)}"
        elif seen:
            like.append(f"{each.defect} {seen} of {many}")
    if like:
        yield f"came on tiles like it: {', '.join(like)}"
    if feared := [each.defect for each in untold if is_feared(each)]:
        yield f"feared: {', '.join(feared if defect else feared[:MOST_FEARED])}"


def _made_so(made) -> str:
    """How many had it of those with the same layers, and on which clay where it is not its own."""
    from diagnose.own_tiles.made_alike import HERE

    so = "made so" if made.on == HERE else f"with these layers on {made.on}"
    early = f" ({made.early} more sound so far)" if made.early else ""
    of = "your one" if made.areas == 1 else f"{made.seen} of your {made.areas}"
    return f"{of} {so} had it{early}"
