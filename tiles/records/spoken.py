"""A record in words: the same wording wherever a tile is named."""

from collections.abc import Mapping

from tiles.records.forms import (
    AreaRecord,
    DefectSeen,
    InspectionRecord,
    LayerRecord,
    TileRecord,
    WitnessCone,
)
from tiles.records.words import name_key


def spoken_tile(record: TileRecord) -> str:
    """A tile in a line: "M-41: red earthenware, pond green x3, cone 05"."""
    from tiles.records.derived import cone_reached

    reached = cone_reached(record)
    cone = f"cone {reached.cone}" if reached else "cone reached not recorded"
    return f"{record.mark}: {record.body.name}, {spoken_areas(record.areas)}, {cone}"


def spoken_areas(areas: list[AreaRecord]) -> str:
    """Areas in their order, once where all are alike: "pond green x1 | x2 | x3"."""
    first, *others = made = [spoken_layers(area.layers) for area in areas]
    if len(set(made)) == 1:
        return first
    alike = {_as_far_as_top(area.layers) for area in areas}
    if len(alike) == 1:  # said once: a grid of coats
        said = alike.pop()
        others = [each.removeprefix(said).lstrip(", ") or each for each in others]
    return " | ".join([first, *others])


def _as_far_as_top(layers: list[LayerRecord]) -> str:
    """All but what is recorded of the topmost layer: "white slip x2 + pond green"."""
    names = [spoken_layer(each) for each in layers[:-1]]
    return " + ".join([*names, *(each.glaze.name for each in layers[-1:])])


def spoken_layers(layers: list[LayerRecord]) -> str:
    """Layers from the clay up: "white slip x2 + pond green x3, 0.9 mm"."""
    if not layers:
        return "no glaze"
    return " + ".join(spoken_layer(layer) for layer in layers)


def spoken_layer(layer: LayerRecord) -> str:
    """One layer: "pond green x3, 0.9 mm"."""
    text = layer.glaze.name
    if layer.recipe and layer.recipe.version and layer.recipe.version > 1:
        text += f" v{layer.recipe.version}"
    if layer.coats:
        text += f" x{layer.coats}"
    if layer.thickness_mm:
        text += f", {layer.thickness_mm:g} mm"
    if layer.fired_thickness_mm:
        text += f", {layer.fired_thickness_mm:g} mm fired"
    return text


def spoken_make(record: TileRecord) -> str:
    """What a tile is made of, in a line: "M-41  red earthenware, white slip x2 + pond green x3"."""
    return f"{record.mark}  {record.body.name}, {spoken_areas(record.areas)}"


def spoken_defect(seen: DefectSeen, *, with_area: bool) -> str:
    """One defect: "severe crawling on area 3, at the foot"."""
    text = f"{seen.severity} {seen.defect}" if seen.severity else seen.defect
    if with_area:
        text += f" on area {seen.area}" if seen.area else " on the whole tile"
    if seen.place:
        text += f", {seen.place}"
    return f"{text} ({seen.note})" if seen.note else text


def spoken_look(look: InspectionRecord, *, with_area: bool) -> str:
    """What one look saw: "clean", or each defect."""
    seen = [spoken_defect(each, with_area=with_area) for each in look.defects]
    text = "; ".join(seen) or "clean"
    return f"{text}. {look.note}" if look.note else text


def spoken_day(record: TileRecord, look: InspectionRecord) -> str:
    """A look at a tile by its day: "the look of 2026-03-02 (severe crawling)"."""
    seen = spoken_look(look, with_area=len(record.areas) > 1)
    return f"the look of {look.inspected_on} ({seen})"


def spoken_trial(record: TileRecord) -> str:
    """What a tile was made to find out: "for M-41 (crawling): coats 3 -> 2"; "" for others."""
    if not record.trial_of:
        return ""
    return f"for {record.trial_of} ({record.trial_defect}): {record.trial_change}"


def spoken_range(cones: tuple[str, str]) -> str:
    """A range of cones: "cone 06 to 04", or "cone 06" for that one alone."""
    return "cone " + " to ".join(dict.fromkeys(cones))


def spoken_witness(read: WitnessCone) -> str:
    """A witness cone as it is spoken: "05 (top)"."""
    return f"{read.cone} ({read.shelf})" if read.shelf else read.cone


def spoken_steps(cones: float) -> str:
    """How far two cones lie apart, whichever is the hotter one: "half a cone", "2 cones"."""
    size = abs(cones)
    return "half a cone" if size == 0.5 else f"{size:g} cone{'s' * (size > 1)}"


def some(names: list[str], most: int = 8) -> str:
    """The first names of a list, and how many more there are."""
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more


def card(record: TileRecord, newest: Mapping[str, int]) -> list[tuple[str, str]]:
    """A tile as label and text, in the order a person looks for them.

    ``newest`` has the newest version of the recipe of each glaze: an earlier one is told.
    """
    from tiles.records import derived
    from tiles.records.own_cone import read_otherwise

    reached, many = derived.cone_reached(record), len(record.areas) > 1
    lines = [("mark", record.mark), ("stage", derived.stage(record)), ("body", record.body.name)]
    lines += [("trial", spoken_trial(record)), ("bisque", spoken_bisque(record))]
    for area in record.areas:
        label = f"area {area.number}" if many else "glaze"
        extra = ", ".join(part for part in (area.label, area.surface) if part)
        lines.append((label, spoken_layers(area.layers) + (f" ({extra})" if extra else "")))
        lines += [("", spoken_application(layer, newest)) for layer in area.layers]
    lines += [("firing", _spoken_firing(record)), ("shelf", record.shelf)]
    if reached:
        other = read_otherwise(record)
        told = other and f"but {' '.join(other)}"
        told = told if reached.said_by == "tile" else whose_cone(record)
        lines.append(("cone reached", f"{reached.cone} ({told})" if told else reached.cone))
    lines += [("form", ", ".join(each for each in (record.form, _stood(record)) if each))]
    lines += [("made", _day(record.made_on)), ("glazed", _day(record.glazed_on))]
    lines += _spoken_clues(record) + _spoken_looks(record, many)
    lines += [("picture", photo.caption or photo.file) for photo in record.photos]
    lines.append(("note", record.note))
    return [(label, text) for label, text in lines if text]


def whose_cone(record: TileRecord) -> str:
    """Which witness cone of its firing speaks for a tile."""
    shelves = [name_key(read.shelf) for read in record.firing.witness_cones if read.shelf]
    of_shelf = record.shelf and name_key(record.shelf) in shelves
    return "its shelf's witness cone" if of_shelf else "the witness cone of the whole load"


def _stood(record: TileRecord) -> str | None:
    return f"stood {record.stood}" if record.stood else None


def _day(day) -> str | None:
    return day.isoformat() if day else None


def spoken_kiln(name: str) -> str:
    """A kiln in a sentence: "kiln No. 2", "small kiln".

    Examples
    --------
    >>> spoken_kiln("No. 2"), spoken_kiln("small kiln")
    ('kiln No. 2', 'small kiln')
    """
    return name if "kiln" in name.casefold().split() else f"kiln {name}"


def spoken_bisque(record: TileRecord) -> str:
    """The tile's own cone and the bisque, with the cone of the bisque where it tells more."""
    from tiles.records.derived import (
        TARGET,
        bisque_by_shelf,
        bisque_cone,
        bisque_peak,
        bisque_read_otherwise,
    )

    counts, firing = bisque_cone(record), record.bisque_firing
    parts = [f"cone {record.bisque_cone}" if record.bisque_cone else ""]
    parts.append(firing.name if firing else "")
    if read := bisque_read_otherwise(record):
        parts[-1] += f" (which read cone {read}; the tile's own counts)"
    elif read := bisque_by_shelf(record):
        parts[-1] += f" (read cone {read} by shelf, shelf not known)"
    elif counts and not record.bisque_cone:
        how = "set for" if counts.said_by == TARGET else "read"
        target = firing.target_cone or counts.cone
        missed = f", set for cone {target}" if target != counts.cone else ""
        parts[-1] += f" ({how} cone {counts.cone}{missed})"
    elif peak := bisque_peak(record):
        about = f", by that about cone {peak[1]}" if peak[1] else ""
        parts[-1] += f" (peak {peak[0]:g} C{about}; no cone on record)"
    return ", ".join(part for part in parts if part)


def spoken_application(layer: LayerRecord, newest: Mapping[str, int]) -> str:
    """How a layer went on, and of what: "pond green: brush, on bisque, batch May", or ""."""
    parts = [layer.method, f"on {layer.applied_on}" if layer.applied_on else None]
    parts.append(f"over a {layer.beneath} layer" if layer.beneath else None)
    parts.append(f"batch {layer.batch.name}" if layer.batch else None)
    version, last = layer.recipe and layer.recipe.version, newest.get(layer.glaze.name, 0)
    if version and version < last:
        parts.append(f"version {version} of its recipe (the newest is {last})")
    told = ", ".join(part for part in parts if part)
    return f"{layer.glaze.name}: {told}" if told else ""


def _spoken_firing(record: TileRecord) -> str:
    firing = record.firing
    if firing is None:
        return ""
    parts = [firing.name, firing.kiln, _day(firing.fired_on)]
    parts.append(f"target cone {firing.target_cone}" if firing.target_cone else None)
    parts.append(f"peak {firing.peak_c:g} C" if firing.peak_c is not None else None)
    parts.append(f"hold {firing.hold_min:g} min" if firing.hold_min is not None else None)
    parts.append(f"opened at {firing.opened_c:g} C" if firing.opened_c is not None else None)
    return ", ".join(part for part in parts if part)


def _spoken_clues(record: TileRecord) -> list[tuple[str, str]]:
    told = [f"{clue.replace('_', ' ')}: {answer}" for clue, answer in record.clues.items()]
    for area in record.areas:
        told += [f"area {area.number} {c.replace('_', ' ')}: {a}" for c, a in area.clues.items()]
    return [("clue", text) for text in told]


def _spoken_looks(record: TileRecord, many: bool) -> list[tuple[str, str]]:
    return [
        ("inspected", f"{look.inspected_on}: {spoken_look(look, with_area=many)}")
        for look in record.inspections
    ]
