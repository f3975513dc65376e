"""Steps at a colour beneath the glaze: less or more of it, another one, none, another clear."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagnose.bought_bisque import is_bought
from diagnose.colour_layer import judged
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.ranges import cones_of_trial, stands
from diagnose.fixes.shapes import COLOUR_ON, UNDER, Change
from diagnose.measures.names import is_clear, zinc_in
from diagnose.own_tiles.other_areas import coats_do_nothing, sound_so
from tiles.records.words import COLOUR_ROLES, same_name

if TYPE_CHECKING:
    from diagnose.view import View
    from tiles.records.forms import GlazeRecord

OTHER_CLEAR = "other_clear"
"""The step to another clear: the colour stays, so it is no other glaze."""
MOST_COLOUR_COATS = 3
"""Three coats of underglaze are usual, too (walkerceramics.com.au, read)."""


def colour_fired_on(bench: Bench) -> Step | None:
    """The colour on raw clay, so that the bisque fires it on before the glaze can crawl over it."""
    colour = bench.view.colours[-1] if bench.view.colours else None
    is_loose = colour is not None and colour.applied_on == "bisque"
    if not is_loose or bench.view.defect != "crawling" or is_bought(bench.record):
        return None
    changes = [Change(COLOUR_ON, "bisque", "greenware")]
    spoils = "Raw clay breaks easily, and a mistake in the colour no longer wipes off."
    edit = {"colour_on": "greenware"}
    return Step("colour_fired_on", "The colour fired on at bisque", changes, spoils, edit)


def fewer_colour_coats(bench: Bench) -> Step | None:
    """Less underglaze, slip or oxide under the glaze."""
    colours = bench.view.colours
    coats = colours[-1].coats if colours else None
    if coats is None or coats < 2:
        return None
    after = min(coats - 1, MOST_COLOUR_COATS)
    change = Change(f"coats of {colours[-1].glaze.name} beneath", coats, after)
    spoils = "Fewer than 3 coats of underglaze can look streaky."
    return Step("fewer_colour_coats", "Less beneath", [change], spoils, {"colour_coats": after})


def more_colour_coats(bench: Bench) -> Step | None:
    """More of a colour that is judged under a clear, up to what is usual."""
    colour = judged(bench.view).top
    coats = colour.coats if colour else None
    if coats is None or coats >= MOST_COLOUR_COATS or coats_do_nothing(bench.view):
        return None
    change = Change(f"coats of {colour.glaze.name} beneath", coats, coats + 1)
    spoils = "Thick underglaze can crawl or flake under the glaze."
    edit = {"colour_coats": coats + 1}
    return Step("more_colour_coats", "More of the colour", [change], spoils, edit)


def other_clear(bench: Bench) -> Step | None:
    """A colour under another clear than one that holds zinc: first under one told to be free."""
    if not judged(bench.view).over:
        return None
    now = bench.top.glaze
    fitting = [
        each
        for each in bench.glazes
        if is_clear(each)
        and each.role not in COLOUR_ROLES
        and not same_name(each.name, now.name)
        and stands(each, cones_of_trial(bench.view))
        and zinc_in(each) is not True
    ]
    best = min(fitting, key=lambda each: zinc_in(each) is None, default=None)
    if best is None:
        return None
    changes = [Change("glaze", now.name, best.name)]
    return Step(OTHER_CLEAR, "Another clear over it", changes, edit={"glaze": best.name})


def nothing_beneath(bench: Bench) -> Step | None:
    """The glaze on the bare clay: whether the colour is to blame, this shows best."""
    colours = bench.view.colours
    if not colours:
        return None
    names = " + ".join(layer.glaze.name for layer in colours)
    changes = [Change(UNDER, names, "nothing")]
    spoils = "The colour is not there: this only tests whether it was to blame."
    return Step("nothing_beneath", "Nothing beneath", changes, spoils, {"bare": True})


def other_colours(
    view: "View", glazes: "Sequence[GlazeRecord]", *, is_fired: bool = False
) -> "list[GlazeRecord]":
    """What could lie under the glaze in place of the colour there: of its kind, for this cone.

    ``is_fired``: it was fired so, whatever its label says.
    """
    now = view.colours[-1].glaze if view.colours else None
    return [
        each
        for each in glazes
        if now
        and each.role == now.role
        and not same_name(each.name, now.name)
        and (is_fired or stands(each, cones_of_trial(view)))
    ]


def to_colour(view: "View", name: str) -> Step:
    """Another colour in place of the one next under the glaze."""
    before = [layer.glaze.name for layer in view.colours]
    changes = [Change(UNDER, " + ".join(before), " + ".join([*before[:-1], name]))]
    return Step("other_colour", "Another colour beneath", changes, edit={"under": name})


def other_colour(bench: Bench) -> Step | None:
    """One over which another area of the tile is sound, else one that names no fluxing oxide."""
    from diagnose.measures.names import FLUXES, words_of

    made = [to_colour(bench.view, each.name) for each in other_colours(bench.view, bench.glazes)]
    sound = (each for each in made if sound_so(bench, each))
    mild = (each for each in made if not FLUXES.search(words_of(each.edit["under"])))
    return next(sound, None) or next(mild, None)
