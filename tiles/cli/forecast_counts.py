"""On how many own tiles a fault came that were made like the one that is forecast."""

from tiles.cli.forecast_own import far, goes_first

NEAREST = "none of your tiles is made and fired just so; the nearest"


def came_on_own(each) -> tuple[int, int]:
    """On how many own tiles a fault came and on how many it might have; those made alike first."""
    told = ((each.alike_seen, each.alike_areas), (each.made_so.seen, each.made_so.looked_at),
            (each.pair.near_seen, each.pair.near_tiles))  # fmt: skip
    return next((each for each in told if each[0]), (0, 0))


def alike(each, tiles: int, *, in_brief: bool = False) -> list[str]:
    """What the counts of areas made alike say, and which could not tell."""
    is_far = each.alike_is_far and not goes_first(each)
    said = _first_count if in_brief and each.alike_areas else counts
    return [
        *([said(each)] if each.alike_tiles or each.layers_areas else []),
        *([far(each, tiles, "what came on this body")] if is_far else []),
        *([each.alike_left_out] if each.alike_left_out else []),
        *([f"{NEAREST}: {each.pair.near}"] if _tells_near(each) else []),
    ]


def _tells_near(each) -> bool:
    """Whether own tiles of the layers in another heat or other coats say more than the chance."""
    return bool(each.pair.near) and (each.pair.near_seen > 0 or each.leans == "more")


def _first_count(each) -> str:
    """On how many areas of its glaze and body it came, and with its very layers where it did."""
    unit, made = made_so(each)
    said = f"{came_on(each.alike_seen, each.alike_areas, 'your', unit)} {made}"
    if not each.layers_seen or each.layers_are_alike:
        return said
    return f"{said}; {came_on(each.layers_seen, each.layers_areas, 'the')} with {very_same(each)}"


def counts(each) -> str:
    """On how many own areas it came, made alike or with the very same layers, if there are any."""
    if not each.alike_areas:
        came = came_on(each.layers_seen, each.layers_areas, "your", "area")
        said = f"{came} with {very_same(each)} on other bodies"
        return said + (f"; {each.clues_apart}" if each.clues_apart else "")
    unit, made = made_so(each)
    said = f"{came_on(each.alike_seen, each.alike_areas, 'your', unit)} {made}"
    said += f", {each.alike_recipe}" if each.alike_recipe else ""
    if 0 < each.closest_areas < each.alike_areas:
        came = came_on(each.closest_seen, each.closest_areas, "the")
        said = f"{said}, {came} {each.closest_how}"
    elif each.closest_how and not each.closest_areas:
        said += "" if each.alike_recipe else f" (none on record {each.closest_how})"
    if each.layers_areas and not each.layers_are_alike:
        very = came_on(each.layers_seen, each.layers_areas, "the")
        said = f"{said}; {very} with {very_same(each)} on any body"
    return said + (f"; {each.clues_apart}" if each.clues_apart else "")


def very_same(each) -> str:
    """What areas with its layers are alike in; of coats that are not recorded that any count."""
    return f"the very same layers{f' ({each.layers_how})' if each.layers_how else ''}"


def made_so(each) -> tuple[str, str]:
    """What the areas made alike are counted in, and how they are made."""
    over = f" over {each.alike_over}" if each.alike_over else ""
    unit = "tile" if each.alike_areas == each.alike_tiles else "area"
    return unit, f"of this glaze{over} on this body"


def came_on(seen: int, areas: int, whose: str, unit: str = "") -> str:
    """On how many it came: "on 2 of your 3 tiles", "not on the one"."""
    if areas == 1:
        unit = unit and "tile"
        return f"{'' if seen else 'not '}on {whose} one{f' {unit}' if unit else ''}"
    return f"on {seen or 'none'} of {whose} {areas}{f' {unit}s' if unit else ''}"
