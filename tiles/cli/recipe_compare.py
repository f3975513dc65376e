"""``tiles recipe compare``: what changed between two recipes, or two versions of one."""

from typing import Annotated

import typer

from tiles.cli import common, figures, output
from tiles.cli.recipe_show import Cone, OnRecord, fetch, measured_bodies, shared_cone
from tiles.cli.recipe_text import labelled, need_not_melt, ranged, share, spoken_parts
from tiles.errors import OutOfRange

TRACE = 0.05
"""A change that the rounding hides is named where it is more than this share of the oxide."""

Name = Annotated[str, typer.Argument(help="A recipe; NAME@1 for version 1.")]


def compare(
    before: Name,
    after: Name,
    cone: Cone = None,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Tell what changed from one recipe to another: parts, Seger formula, raw clay, fit and melt.

    The error of a difference is smaller than that of either figure: both are told.

    Example: tiles recipe compare "house clear@1" "house clear@2"
    """
    with common.reading(db) as session:
        one, other = (fetch(session, name, None, cone) for name in (before, after))
        bodies = {body.name: body.expansion_ppm_per_k for body in measured_bodies(session)}
    values = differences(one, other, cone)
    if as_json:
        titles = {"before": one.title, "after": other.title}
        output.print_json(titles | values | {"bodies": bodies})
    else:
        print("\n".join(_lines(one, other, values)))


def differences(one: OnRecord, other: OnRecord, cone: str | None) -> dict:
    """What differs, ready for JSON; pairs are (before, after)."""
    from tiles.chemistry import formula
    from tiles.chemistry.hazards import REMINDER

    shared, differ = shared_cone([one, other], cone)
    both = [figures.of_composition(each.made_of, shared) for each in (one, other)]
    try:
        change = formula.compare(one.made_of, other.made_of)
        parts, unity = change.parts, change.unity
    except OutOfRange:
        # One of them has no flux or nothing understood: the parts can still be compared.
        parts, unity = formula.moved_parts(one.made_of, other.made_of), {}
    return {
        "cone": shared,
        "labels_differ": differ,
        "parts": parts,
        "moved": _moved(one, other),
        "unity": unity,
        "has_formula": all(each["seger"] for each in both),
        "silica_to_alumina": [each["silica_to_alumina"] for each in both],
        "loss_on_ignition_pct": [each["loss_on_ignition_pct"] for each in both],
        "raw_clay_pct": [each["raw_clay_pct"] for each in both],
        "not_understood_pct": [each["not_understood_pct"] for each in both],
        "cannot_tell": [each["cannot_tell"] for each in both],
        "expansion": [each["expansion"] for each in both],
        "melt": [each["melt"] for each in both],
        **_estimated(both),
        "cautions": [[vars(caution) for caution in each.cautions] for each in (one, other)],
        "reminder": REMINDER,
    }


def _moved(one: OnRecord, other: OnRecord) -> dict:
    """Materials that went from the base to the additions, or back, as the first recipe has them."""
    before, after = (
        {line.title: "addition" if line.is_extra else "base" for line in each.made_of.lines}
        for each in (one, other)
    )
    return {name: (was, after[name]) for name, was in before.items() if after.get(name, was) != was}


def _estimated(both: list[dict]) -> dict:
    """The two differences with their own, smaller errors."""
    from tiles.chemistry import expansion, melt

    found = {"expansion_difference": None, "melt_difference": None}
    mole_percents = [each["mole_pct"] for each in both]
    if all(each["expansion"] for each in both):
        answer = expansion.difference(*mole_percents)
        found["expansion_difference"] = figures.as_dict(answer, "ppm/K")
    if all(each["melt"] for each in both):
        answer = melt.difference(*mole_percents, both[0]["melt"]["temperature_c"])
        found["melt_difference"] = figures.as_dict(answer, "log10 Pa.s")
    return found


def _lines(one: OnRecord, other: OnRecord, values: dict) -> list[str]:
    if not values["parts"] and not values["moved"]:
        return [f"{one.title} and {other.title} have the same parts."]
    lines = [
        labelled("before", f"{one.title}: {spoken_parts(one.recipe)}"),
        labelled("after", f"{other.title}: {spoken_parts(other.recipe)}"),
        *_pairs("parts", values["parts"], "g"),
        *(
            labelled("moved", f"{name}: from the {was} to the {now}")
            for name, (was, now) in values["moved"].items()
        ),
        *(_pairs("Seger", values["unity"], ".2f") or _same_formula(values)),
        *_pairs("dry batch", _of_the_batch(values), ".1f"),
        *_not_understood(values),
        *_cannot_tell(one, other, values),
        *_both("expansion", values["expansion"], values["expansion_difference"], "ppm/K"),
        *_expansion_meaning(values),
        *_both("melt", values["melt"], values["melt_difference"], "log10 Pa.s"),
        *_melt_meaning(values),
    ]
    lines += _cautions(one, other)
    roles = [each.role for each in (one, other) if need_not_melt(each.role)]
    if roles:
        lines.append(labelled("note", f"a {roles[0]} need not melt: fit and melt say little."))
    return lines


def _cautions(one: OnRecord, other: OnRecord) -> list[str]:
    from tiles.chemistry.hazards import REMINDER

    named = dict.fromkeys(each.hazard for found in (one, other) for each in found.cautions)
    told = f"{', '.join(named)}; 'tiles recipe show NAME --full' tells how to handle it."
    return [*([labelled("caution", told)] if named else []), labelled("food", REMINDER)]


def _pairs(label: str, pairs: dict, form: str) -> list[str]:
    rows = []
    for name, (before, after) in pairs.items():
        change = format(after - before, f"+z{form}")
        texts = [format(value, form) for value in (before, after)]
        texts = [text if float(text) else "-" for text in texts]
        # What the rounding hides is no change to tell.
        if float(change):
            rows.append(f"{name:<24}{texts[0]:>8} -> {texts[1]:>6}  ({change})")
    return [labelled(label if not number else "", row) for number, row in enumerate(rows)]


def _is_same_formula(values: dict) -> bool:
    """Whether both have a formula and no oxide of it moves by as much as is shown."""
    moves = (abs(after - before) for before, after in values["unity"].values())
    return values["has_formula"] and all(float(f"{by:.2f}") == 0 for by in moves)


def _same_formula(values: dict) -> list[str]:
    """That the glass is the same; traces are named, for a little cobalt shows."""
    if not _is_same_formula(values):
        return []
    moved = values["unity"].items()
    traces = [name for name, pair in moved if abs(pair[1] - pair[0]) > TRACE * max(pair)]
    if traces:
        return [labelled("Seger", f"unchanged but for a trace of {', '.join(traces)}.")]
    return [labelled("Seger", "unchanged: the same glass once it is fired.")]


def _of_the_batch(values: dict) -> dict:
    """What sets two batches apart before they are fired. [wt %]."""
    return {
        "raw clay, %": values["raw_clay_pct"],
        "loss on ignition, %": values["loss_on_ignition_pct"],
    }


def _not_understood(values: dict) -> list[str]:
    shares = values["not_understood_pct"]
    if not any(shares):
        return []
    told = " and ".join(share(each) if each else "0 %" for each in shares)
    return [labelled("WARNING", f"{told} are not understood; figures are of the rest only.")]


def _cannot_tell(one: OnRecord, other: OnRecord, values: dict) -> list[str]:
    return [
        labelled("cannot tell", f"{each.title}: {reason}")
        for each, reasons in zip((one, other), values["cannot_tell"], strict=True)
        for reason in reasons
    ]


def _both(label: str, answers: list, difference: dict | None, unit: str) -> list[str]:
    if difference is None:
        return []
    told = " -> ".join(ranged(each, 1) for each in answers)
    value, low, high = (f"{difference[key]:+z.2f}" for key in ("value", "low", "high"))
    step = f"{value} ({low} to {high}) {unit}"
    first, second, change = (_half_width(each) for each in (*answers, difference))
    own = f"each +/- {first}" if first == second else f"+/- {first} before, +/- {second} after"
    errors = f"{own}, their difference +/- {change}"
    lines = [labelled(label, f"{told} {unit}"), labelled("", f"changed by {step}; {errors}")]
    return lines + [labelled("", f"But: {remark}.") for remark in difference["remarks"]]


def _half_width(answer: dict) -> str:
    """Half the range; what one decimal would show as nothing has two."""
    half = (answer["high"] - answer["low"]) / 2
    return f"{half:.1f}" if half >= 0.05 else f"{half:.2f}"


def _expansion_meaning(values: dict) -> list[str]:
    found = values["expansion_difference"]
    if found is None or _is_same_formula(values):
        return []
    if found["low"] <= 0 <= found["high"]:
        return [labelled("", "Which of the two fits tighter cannot be told.")]
    towards = "away from crazing" if found["value"] < 0 else "towards crazing"
    return [labelled("", f"The change is {towards}, whatever the body.")]


def _melt_meaning(values: dict) -> list[str]:
    found = values["melt_difference"]
    if found is None:
        return []
    words = " -> ".join(each["word"] for each in values["melt"])
    at = f"At cone {values['cone']}: {words}."
    if values["labels_differ"]:
        at = f"Note: {values['labels_differ']} {at}"
    if _is_same_formula(values):
        return [labelled("", at)]
    if found["low"] <= 0 <= found["high"]:
        return [labelled("", f"{at} Which of the two is more fluid cannot be told.")]
    least, times, most = sorted(10 ** abs(found[key]) for key in ("low", "value", "high"))
    side = "more fluid" if found["value"] < 0 else "stiffer"
    return [labelled("", f"{at} {_times(times, least, most)} {side}.")]


def _times(times: float, least: float, most: float) -> str:
    """How many times, in plain figures of which two are known."""
    value, low, high = (f"{float(f'{each:.2g}'):.10g}" for each in (times, least, most))
    return f"About {value} times ({low} to {high})"
