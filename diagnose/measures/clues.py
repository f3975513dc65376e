"""Clues answered yes or no, and the few that a place word says as plainly."""

import re
from collections.abc import Iterator

from diagnose.measures.application import Reading
from diagnose.view import View, sightings
from diagnose.vocabulary import clue_said

# Words in the "where" of a defect that answer a clue; a recorded answer always goes first.
PLACE_WORDS = (
    (re.compile(r"\b(thick|thicker|thickest|pools?|drips?|rolls?)\b"), "worst_where_thick"),
    (re.compile(r"\boverlaps?\b"), "only_in_overlaps"),
    (re.compile(r"\bover (the )?(underglaze|slip|oxide|wash)\b"), "only_over_colour"),
    (re.compile(r"\b(corners?|joints?|angles?)\b"), "in_inside_corners"),
    (re.compile(r"\b(fingers?|fingerprints?)\b"), "bare_spots_like_fingers"),
    (re.compile(r"\b(bare clay|unglazed|stilt marks?)\b"), "starts_at_bare_clay"),
)
FOOT = re.compile(r"\bfoot\b")
EVERYWHERE = re.compile(r"\b(everywhere|all over|overall|whole (tile|surface|area))\b")


def read(view: View) -> Iterator[Reading]:
    """What the place words say, then the clues as recorded."""
    recorded = view.clues
    for name, answer in _from_places(view).items():
        if name not in recorded:
            yield name, answer[0], f"{clue_said(name, answer[0])} (noted at: {answer[1]})"
    for name, answer in recorded.items():
        yield name, answer, clue_said(name, answer)


def _from_places(view: View) -> dict[str, tuple[str, str]]:
    found: dict[str, tuple[str, str]] = {}
    here = view.area.number if view.area else None
    for seen in sightings(view.record, view.defect) if view.defect else []:
        if seen.place is None or seen.area not in (None, here):
            continue
        place = seen.place.casefold()
        for pattern, clue in PLACE_WORDS:
            if pattern.search(place):
                found[clue] = ("yes", seen.place)
        if view.defect == "crazing" and FOOT.search(place):
            found.setdefault("starts_at_bare_clay", ("yes", seen.place))
        if EVERYWHERE.search(place):
            found.setdefault("worst_where_thick", ("no", seen.place))
    return found
