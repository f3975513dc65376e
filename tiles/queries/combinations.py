"""Areas made alike: the same layers with their coats, on the same clay, at the same cone."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from sqlalchemy.orm import Session

from tiles.queries.search import Found, Search, run

Made = tuple
"""What areas made alike have in common; what is not recorded is like what is not recorded."""


@dataclass
class Combination:
    """Inspected areas made alike, in the order of their marks; counted once all are there."""

    areas: list[Found] = field(default_factory=list)

    @cached_property
    def marks(self) -> list[str]:
        """The tiles."""
        return list(dict.fromkeys(each.mark for each in self.areas))

    @cached_property
    def clean(self) -> list[str]:
        """Tiles of which no area made so shows a defect, the newest first."""
        faulty = {each.mark for each in self.areas if not each.clean}
        days = {each.mark: each.day or date.min for each in self.areas}
        sound = (mark for mark in self.marks if mark not in faulty)
        return sorted(sound, key=days.__getitem__, reverse=True)

    @cached_property
    def defects(self) -> dict[str, int]:
        """How many tiles show each defect, the commonest first."""
        seen = dict.fromkeys((each.mark, name) for each in self.areas for name in each.severity)
        return dict(Counter(name for _mark, name in seen).most_common())

    @property
    def other_words(self) -> list[str]:
        """What was written of faults that have no word of their own."""
        return list(dict.fromkeys(words for each in self.areas for words in each.other_words))

    def only_bad_batch(self) -> tuple[str, str] | None:
        """The glaze and its batch that all faulty tiles are from, and none of the clean ones."""
        return next((each[:2] for each in self._bad_batches() if each[2] == each[3]), None)

    def bad_batch(self) -> tuple[str, int, int] | None:
        """The batch that all faulty tiles are from: the faulty and all of it, most of them faulty.

        Where others are clean.
        """
        bad = (each[1:] for each in self._bad_batches() if 2 * each[2] > each[3])
        return next(bad, None)

    def _bad_batches(self) -> Iterator[tuple[str, str, int, int]]:
        """Of each layer that has one: glaze, batch, how many of it are faulty and of how many."""
        faulty = [each for each in self.areas if each.mark not in self.clean]
        sound = [each for each in self.areas if each.mark in self.clean]
        for layer, glaze in enumerate(self.areas[0].glazes):
            bad = {each.batches[layer] for each in faulty}
            others = {each.batches[layer] for each in sound}
            if len(bad) == 1 and None not in bad and others - bad:
                clean = {each.mark for each in sound if each.batches[layer] in bad}
                many = len({each.mark for each in faulty})
                yield glaze, bad.pop(), many, many + len(clean)

    @cached_property
    def by_kiln(self) -> dict[str, tuple[int, int]]:
        """How many tiles were clean, of how many, in each kiln that is on record."""
        kilns = {each.mark: each.kiln for each in self.areas if each.kiln}
        fired, sound = Counter(kilns.values()), Counter(kilns.get(mark) for mark in self.clean)
        return {kiln: (sound[kiln], fired[kiln]) for kiln in sorted(fired)}

    def only_bad_kiln(self) -> str | None:
        """The kiln that all faulty tiles are from, where another one had none."""
        bad = {each.kiln for each in self.areas if each.mark not in self.clean}
        kiln = bad.pop() if len(bad) == 1 else None
        return kiln if len(self.by_kiln) > 1 else None

    @property
    def versions(self) -> list[int | None]:
        """The recipe version of each layer; None where it is not the same one on all."""
        of_layers = zip(*(each.versions for each in self.areas), strict=True)
        return [each[0] if len(set(each)) == 1 else None for each in of_layers]


def made(area: Found) -> Made:
    """How an area was made, to be compared with others.

    A glaze without a recipe on the tile counts with its first version, as it is told: most often
    the recipe was written down later, or on another row.
    """
    later = [version if (version or 1) > 1 else None for version in area.versions]
    layers = tuple(zip(area.glazes, later, area.coats, strict=True))
    return layers, area.body, area.cone_reached


def made_otherwise(every: dict[Made, Combination]) -> dict[Made, list[Combination]]:
    """By how each was made: the same layers with other coats or on other clays, at the same cone.

    A tile counts once for each way of its areas: one coat too many beside it spoils no thinner one.
    """
    like: dict[tuple, list[Made]] = {}
    for how in every:
        like.setdefault(_layers_at_cone(how), []).append(how)
    return {
        how: [every[other] for other in like[_layers_at_cone(how)] if other != how] for how in every
    }


def on_its_clay(every: dict[Made, Combination]) -> dict[Made, list[Found]]:
    """By how each was made: own other areas with its uppermost glaze on its clay.

    Whatever lies beneath, with any coats and at any cone.
    """
    like: dict[tuple, list[Made]] = {}
    for how in every:
        like.setdefault(_glaze_and_clay(how), []).append(how)
    return {
        how: [
            area
            for other in like[_glaze_and_clay(how)]
            if other != how
            for area in every[other].areas
        ]
        for how in every
    }


def _glaze_and_clay(how: Made) -> tuple:
    layers, body, _cone = how
    return (layers[-1][0] if layers else None), body


def _layers_at_cone(how: Made) -> tuple:
    layers, _body, cone = how
    return tuple((glaze, version) for glaze, version, _coats in layers), cone


def combinations(areas: Iterable[Found]) -> dict[Made, Combination]:
    """The inspected ones of some areas by how they were made."""
    found: dict[Made, Combination] = {}
    for area in areas:
        if area.inspected:
            found.setdefault(made(area), Combination()).areas.append(area)
    return found


def alike(session: Session, search: Search, *, otherwise: bool = False) -> dict[Made, Combination]:
    """All inspected areas of its time made like any that answers a search, whatever else it asks.

    Of another time they may be of another clay or jar under the same name; where a batch is asked
    for, those of that batch. With ``otherwise`` also those with other coats and on other clays.
    """
    how = Search(
        body=None if otherwise else search.body,
        glazes=search.glazes,
        coats=None if otherwise else search.coats,
        batch=search.batch,
        cone_from=search.cone_from,
        cone_to=search.cone_to,
        since=search.since,
        until=search.until,
        is_inspected=True,
    )
    return combinations(run(session, how))
