"""What clay and glazes are not made for: lines of tiles at cones that their labels do not cover."""

from collections.abc import Iterable
from dataclasses import dataclass, field

COMES_OF_IT = {
    True: "So far over its range clay bloats and slumps, glaze runs off onto shelf and elements.",
    False: "So far under its range glaze does not melt through and clay stays weak and porous: no "
    "ware for food.",
}
"""What comes of a firing far above a range (True), or far below one."""
STOP = "stop: far outside its range"
"""What a line of the table is marked with."""


@dataclass(frozen=True)
class Cones:
    """The cones that labels give, by the names of glazes and clays.

    ``clays`` : as `far_labels.label_of_body` has them; ``targets`` : what each firing was set for.
    """

    glazes: dict[str, tuple[str, str]] = field(default_factory=dict)
    clays: dict[str, tuple] = field(default_factory=dict)
    targets: dict[str, str] = field(default_factory=dict)

    def outside(self, area) -> list[str]:
        """The glazes of an area, and its clay, whose label does not cover the cone it reached."""
        at, own = area.cone_reached, self._of_glazes(area)
        if not at:
            return []
        named = {name: ends for name, ends in own.items() if _is_outside(at, *ends)}
        clay = self.clays.get(area.body)
        return [*named, *([area.body] if clay and _is_outside(at, *clay[1:]) else [])]

    def stops(self, areas: list) -> list[str]:
        """Why nothing more is to be fired as these areas were, as `tiles forecast` says it.

        Empty where any of them may be. Where the cone reached is not known, the target is meant;
        where neither is, glazes that mature far from their clay.
        """
        found = [[said for said, _ in self._far(each)] for each in areas]
        return list(dict.fromkeys(sum(found, []))) if all(found) else []

    def _far(self, area) -> list[tuple[str, bool | None]]:
        """Each sentence, and whether the firing is above the range; None of two ranges apart."""
        from tiles.records.answered import REACHED
        from tiles.records.far_labels import far_apart, far_from, label_of_glaze, spoken_cone

        glazes = [label_of_glaze(*each) for each in self._of_glazes(area).items()]
        clay = self.clays.get(area.body, (area.body, None, None))
        reached, target = area.cone_reached, self.targets.get(area.firing)
        if not (reached or target):
            return [(each, None) for each in far_apart(clay, *glazes)]
        fired = (REACHED, reached) if reached else ("target cone", target)
        far = far_from(spoken_cone(*fired), fired[1], [clay, *glazes])
        return [(each.said, each.is_above) for each in far]

    def _of_glazes(self, area) -> dict[str, tuple[str, str]]:
        return {name: self.glazes[name] for name in area.glazes if name in self.glazes}

    def told(self, areas: list) -> list[str]:
        """What the labels of these areas are not for, and what comes of it where that is far."""
        from tiles.records.far_labels import FAR_OUTSIDE_STEPS

        told = (
            [f"Not what the label is for: {'; '.join(off)}."] if (off := self._off(areas)) else []
        )
        far = {(area.cone_reached, *each): None for area in areas for each in self._far(area)}
        comes = dict.fromkeys(
            COMES_OF_IT[is_above] for _, _, is_above in far if is_above is not None
        )
        if any(reached for reached, *_ in far):
            told.append(f"Stop where it is at least {FAR_OUTSIDE_STEPS} cones off.")
        told += [f"Stop: {said}" for reached, said, _ in far if not reached]
        return [*told[:-1], " ".join([told[-1], *comes])] if comes else told

    def _off(self, areas: Iterable) -> list[str]:
        """Each glaze, then each clay, with its range and the cones outside it."""
        from tiles.chemistry.cones import step

        found: dict[tuple[bool, str], set[str]] = {}
        for area in areas:
            for name in self.outside(area):
                is_clay = name == area.body and name not in area.glazes
                found.setdefault((is_clay, name), set()).add(area.cone_reached)
        told = []
        for (is_clay, name), at in sorted(found.items()):
            cones = ", ".join(sorted(at, key=step))
            told.append(f"{name} ({self._range(name, is_clay=is_clay)}) at cone {cones}")
        return told

    def _range(self, name: str, *, is_clay: bool) -> str:
        from tiles.records.spoken import spoken_range

        if not is_clay:
            return spoken_range(self.glazes[name])
        _, low, high = self.clays[name]
        return spoken_range((low, high)) if low else f"an earthenware: cone {high} at most"


def _is_outside(at: str, low: str | None, high: str | None) -> bool:
    from tiles.chemistry.cones import steps_outside

    return bool(steps_outside(at, low, high))


def cones_of_labels(session) -> Cones:
    """The cones of all labels and firings on record."""
    from tiles.queries.summaries import clay_labels, cone_labels, targets_of_firings

    return Cones(cone_labels(session), clay_labels(session), targets_of_firings(session))
