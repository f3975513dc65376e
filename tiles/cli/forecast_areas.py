"""The forecasts of each area of a tile, as its kiln fires; or why it must not be fired so."""

from dataclasses import dataclass


@dataclass(frozen=True)
class OfArea:
    """The forecasts of one area; ``unlike`` says what about it was never met.

    ``stop`` says why it must not be fired so: far outside what its clay or glaze is made for.
    ``kiln_habit`` says how its kiln or shelf misses its targets, where that is reckoned with.
    ``is_bare``: no glaze is on record there, so that only faults of the clay are forecast.
    """

    area: int
    forecasts: list
    unlike: list[str]
    tiles: int
    stop: list[str]
    kiln_habit: str | None = None
    is_bare: bool = False


def forecasts(records: list, record, defect: str | None, db: str | None) -> list[OfArea]:
    """Forecast every area of a tile; one that was looked at is first taken out of what is learned.

    One that was not has taught nothing of any fault, so that all such share what is kept.
    """
    from diagnose.forecasts.by_cone import either
    from diagnose.forecasts.by_fit import with_fit
    from diagnose.forecasts.of_tile import forecast, unlike
    from diagnose.learner import fit_records
    from diagnose.view import seen_from
    from tiles.cli.learned import recalled
    from tiles.records.bare_clay import OF_A_GLAZE
    from tiles.records.words import DEFECTS

    whole = recalled(records, db)
    others = [each for each in records if each.mark != record.mark]
    own = [each for each in records if each.mark == record.mark]
    model = fit_records(others) if any(each.inspections for each in own) else whole
    how = {"judged": whole, "others": others}
    asked = [defect] if defect else DEFECTS
    tiles = sum(bool(each.inspections) for each in others)
    ways, habit = _as_the_kiln_fires(record, others, db)
    likeliest = ways[0][1]
    stops = [stop for _, each in ways if (stop := _stop(each))]
    found = []
    for area in record.areas:
        number, is_bare = area.number, not area.layers
        defects = [each for each in asked if not (is_bare and each in OF_A_GLAZE)]
        by_cone = [
            (share, each.cone_reached, forecast(model, each, number, defects=defects, **how))
            for share, each in ways
        ]
        told = with_fit(either(by_cone), others, seen_from(record, number))
        new = unlike(model, likeliest, number, others)
        found.append(OfArea(number, told, new, tiles, stops[0] if stops else [], habit, is_bare))
    return found


def _as_the_kiln_fires(record, others: list, db: str | None) -> tuple:
    """The ways in which a tile may be fired, each with its share and the tile so, and why.

    One that was not read yet with the cone its kiln or shelf reaches by habit, or with each that
    its shelf reaches now and then.
    """
    from diagnose.wording import listed
    from tiles.cli.studio import all_firings
    from tiles.records.derived import cone_reached
    from tiles.records.kiln_habit import habit_of, mixed_of

    firing, shelf = record.firing, record.shelf
    if cone_reached(record) or not (firing and firing.kiln and firing.target_cone):
        return [(1.0, record)], None
    firings = all_firings(db)
    habit = habit_of(firing.kiln, others, firings, shelf)
    mixed = mixed_of(firing.kiln, others, firings, shelf) if shelf and not habit else None
    cone = habit and habit.expected(firing.target_cone)
    cones = mixed.expected(firing.target_cone) if mixed else [(1.0, cone)] if cone else []
    if not cones:
        return [(1.0, record)], None
    cones = sorted(cones, key=lambda each: -each[0])
    ways = [(share, record.model_copy(update={"cone_reached": each})) for share, each in cones]
    told = listed([f"{each} ({share:.0%})" for share, each in cones]) if mixed else cone
    return ways, f"{(mixed or habit).said()}: this is told for cone {told}"


def _stop(record) -> list[str]:
    """Sentences that say why a tile must not be fired so; empty for an ordinary firing."""
    from diagnose.wording import sentence
    from tiles.cli.off_label import COMES_OF_IT
    from tiles.records.questions import far_outside, mismatches, tells_heat

    outside = far_outside(record)
    if not outside:
        apart = [] if tells_heat(record) else mismatches(record)
        return [*map(sentence, apart), "Another glaze or another clay."] if apart else []
    comes = dict.fromkeys(COMES_OF_IT[each.is_above] for each in outside)
    return [*(sentence(each.said) for each in outside), *comes, _meant(record)]


def _meant(record) -> str:
    """The cone with its zero taken off or put on, where that one lies within the labels."""
    from tiles.chemistry.cones import with_other_zero
    from tiles.records.derived import cone_reached
    from tiles.records.questions import is_within_labels

    reached = cone_reached(record)
    cone = reached.cone if reached else record.firing and record.firing.target_cone
    if cone is None and record.firing and record.firing.peak_c:
        return "Is the peak right?"
    other = cone and with_other_zero(cone)
    is_it = other is not None and is_within_labels(record, other)
    return f"Was {other} meant?" if is_it else "Is the cone right?"
