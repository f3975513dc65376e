"""Glazes and clays fired far below their labels, where underfired tiles bear the labels out.

Neither the label nor the cone is a slip then: they came out as what is fired so does, and it is
the jar that stands among others for cooler firings.
"""

from collections.abc import Iterator

from tiles.cli.doubts import Doubt
from tiles.errors import shell_line

_Told = tuple
"""A tile and a question about it."""


def labels(told: _Told) -> list[tuple[str, str]]:
    """Whose labels a question is about: "glaze" or "body", and its name."""
    record, said = told
    named = [(what, each.name) for what, each in _labelled(record)]
    is_of = (f"{what} {name!r}" for what, name in named)
    return [
        each
        for each, of in zip(named, is_of, strict=True)
        if f"for {of}" in said or f"and {of}" in said
    ]


def borne_out(asked: list[_Told]) -> dict[tuple[str, str], list[_Told]]:
    """What is far below a label that most of it that was looked at bears out, by that label."""
    by_label: dict[tuple[str, str], list[_Told]] = {}
    for told in asked:
        for of in labels(told) if "far below" in told[1] else ():
            by_label.setdefault(of, []).append(told)
    underfired = {of: _underfired(told) for of, told in by_label.items()}
    return {of: by_label[of] for of, seen in underfired.items() if sum(seen) > len(seen) / 2}


def of_right_labels(found: dict[tuple[str, str], list[_Told]]) -> Iterator[Doubt]:
    """One for each such glaze or clay in use: how it came out, and to keep it out of such loads."""
    from tiles.chemistry.cones import step
    from tiles.records.derived import label_range
    from tiles.records.spoken import spoken_range

    for (what, name), told in found.items():
        records = [record for record, _said in told]
        one = next(one for of, one in _labelled(records[0]) if (of, one.name) == (what, name))
        if one.is_retired:
            continue
        cones, seen = sorted(map(_fired_to, records), key=step), _underfired(told)
        said = (
            f"{what} {name!r} is for {spoken_range(label_range(one))} and was fired at "
            f"{spoken_range((cones[0], cones[-1]))}: {sum(seen)} of {len(seen)} looked at "
            f"{'is' if sum(seen) == 1 else 'are'} underfired, as the label says. Keep it out of "
            "such loads."
        )
        mend = shell_line(["tiles", what, "retire", name])
        marks = [record.mark for record in records]
        yield Doubt(marks, said, mend, mend_if="nothing here is fired so hot")


def _underfired(told: list[_Told]) -> list[bool]:
    """Whether each that was looked at is underfired."""
    from tiles.records.derived import shows

    looked_at = (record for record, _said in told if record.inspections)
    return [any(shows(each, area, "underfired") for area in each.areas) for each in looked_at]


def _labelled(record) -> list[tuple]:
    """The glazes and the clay of a tile, each once."""
    glazes = {layer.glaze.name: layer.glaze for area in record.areas for layer in area.layers}
    return [*(("glaze", each) for each in glazes.values()), ("body", record.body)]


def _fired_to(record) -> str:
    """The cone a question is about: read, else set, else the one nearest to the peak."""
    from tiles.records.derived import cone_near_peak, cone_reached

    reached = cone_reached(record)
    return reached.cone if reached else record.firing.target_cone or cone_near_peak(record.firing)
