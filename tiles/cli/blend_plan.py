"""A blend put on record: a recipe glaze for each mixture and a planned tile with a mark."""

from tiles.cli import common, entry, notices
from tiles.cli.blend_points import Wanted
from tiles.cli.marks import just_handed_out, load_hint
from tiles.cli.plan import free_marks
from tiles.cli.prose import counted
from tiles.cli.recipe_show import OnRecord
from tiles.cli.weighing import decimals

LONGEST_NAME = 120
"""Characters a name on record may have."""


def put_on_record(
    mixes: list, corners: list[OnRecord], titles: list[str], wanted: Wanted
) -> list[str]:
    """Store recipes and planned tiles in one transaction; gives the mark of each tile.

    An end that is all one recipe stays that recipe; mixtures become glazes of their own, and one
    that is on record with the same lines already is used again.
    """
    marks = free_marks(len(mixes), wanted.first_mark, wanted.db)
    layers = [_layer(mix, corners, titles) for mix in mixes]
    tiles = [_tile(mark, each, wanted) for mark, each in zip(marks, layers, strict=True)]
    what = f"the recipes and {counted(len(mixes), 'planned tile')}"
    common.ask_to_plan(what, yes=wanted.yes)
    with just_handed_out():
        stored = common.confirmed(lambda sure: _store(tiles, wanted, sure), yes=wanted.yes)
    notices.tell_mismatches(stored)
    notices.tell_new_marks(marks, wanted.db)
    common.talk(f"Planned. {load_hint(marks)}")
    return marks


def _store(tiles: list, wanted: Wanted, sure: bool) -> list:
    from tiles.records import models, store
    from tiles.records.store.named import Names

    with common.writing(wanted.db) as session:
        # Recipes may be new, but the body must be on record.
        store.find(session, models.ClayBody, wanted.body)
        names = Names(session, add_missing=True, keep_blanks=True)
        return [store.add_tile(session, each, names=names, confirmed=sure) for each in tiles]


def _layer(mix, corners: list[OnRecord], titles: list[str]) -> dict:
    """The glaze of one mixture with its recipe."""
    by_title = dict(zip(titles, corners, strict=True))
    parts = {name: share for name, share in mix.shares.items() if share}
    if len(parts) == 1:
        corner = by_title[next(iter(parts))]
        return {"glaze": {"name": corner.name}, "recipe": corner.recipe.model_dump()}
    glaze = {
        "name": _name(parts),
        "kind": "recipe",
        "role": corners[0].role,
        "remark": f"blend: {mix.title}",
    }
    if all(each.label == corners[0].label for each in corners):
        glaze |= corners[0].label
    lines = [
        {"material": name, "parts": round(amount, max(3, decimals(amount)))}
        for name, amount in mix.recipe.items()
    ]
    return {"glaze": glaze, "recipe": {"lines": lines, "note": f"blend: {mix.title}"}}


def _name(parts: dict[str, float]) -> str:
    """The corners with their shares; long names are cut so that the whole can be a name."""
    room = LONGEST_NAME // len(parts) - len(" 33.33 + ")
    cut = {name: name if len(name) <= room else f"{name[: room - 1]}…" for name in parts}
    if len(set(cut.values())) < len(cut):
        cut = {name: f"{name[: room - 4]}… {at}" for at, name in enumerate(parts, start=1)}
    full = " + ".join(f"{name} {100 * share:.4g}" for name, share in parts.items())
    if len(full) <= LONGEST_NAME:
        return full
    return " + ".join(f"{cut[name]} {100 * share:.4g}" for name, share in parts.items())


def _tile(mark: str, layer: dict, wanted: Wanted):
    from tiles.records import forms

    # The glaze is put in afterwards: a name may hold signs that mean coats or an area.
    areas = entry.areas(["glaze"], coats=wanted.coats)
    for area in areas:
        area["layers"][-1] |= layer
    values = {
        "mark": mark,
        "body": wanted.body,
        "bisque_cone": wanted.bisque_cone,
        "areas": areas,
    }
    return forms.read(forms.TileRecord, values, mark)
