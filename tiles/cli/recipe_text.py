"""A recipe and its figures as lines for the screen."""

from tiles.cli.prose import beside
from tiles.cli.weighing import spoken_g, too_little

LABEL = 11


def card(found, values: dict, *, batch_g: float | None, full: bool) -> list[str]:
    """Everything on one screen; ``full`` adds ranges, remarks and cautions in words.

    Parameters
    ----------
    found : OnRecord
        The recipe.
    values : dict
        From `figures.of_composition`, with ``bodies`` and ``batch``.
    """
    return [
        *_head(found),
        *_batch(values["batch"], batch_g),
        *_understood(values),
        *_seger(values),
        *(labelled("cannot tell", text) for text in values["cannot_tell"]),
        *_expansion(found, values, full=full),
        *_melt(found, values, full=full),
        *_limits(found, values, full=full),
        *_cautions(found, full=full),
    ]


def labelled(label: str, text: str) -> str:
    """A label and wrapped text beside it."""
    return "\n".join(beside(f"{label:<{LABEL}}  ", text))


def spoken_parts(recipe) -> str:
    """The lines of a recipe as they are spoken: base, its sum, additions."""
    base = [line for line in recipe.lines if not line.is_addition]
    extras = [_line(line) for line in recipe.lines if line.is_addition]
    told = ", ".join(map(_line, base))
    total = sum(line.parts for line in base)
    told += f" (= {round(total, 2):g})" if base else ""
    return f"{told} + {', '.join(extras)}".strip() if extras else told


def _line(line) -> str:
    return f"{line.material} {round(line.parts, 2):g}"


def _head(found) -> list[str]:
    lines = [
        f"{found.title} of {found.versions}, {found.role}",
        labelled("parts", spoken_parts(found.recipe)),
    ]
    return [*lines, labelled("note", found.recipe.note)] if found.recipe.note else lines


def _batch(weights: dict | None, batch_g: float | None) -> list[str]:
    if weights is None:
        return []
    told = ", ".join(f"{name} {spoken_g(grams)}" for name, grams in weights.items())
    return [
        labelled("batch", f"{spoken_g(batch_g)} g dry: {told} g"),
        *(labelled("", text) for text in too_little([weights], batch_g)),
    ]


def _understood(values: dict) -> list[str]:
    if values["not_understood_pct"]:
        names = ", ".join(
            f"{name!r}" + (f" (is it {close}?)" if close else "")
            for name, close in values["suggestions"].items()
        )
        return [
            labelled(
                "WARNING",
                f"{share(values['not_understood_pct'])} of the recipe is not understood: {names}. "
                "Every figure below is of the rest only and may be far off. "
                "'tiles material add' takes the data sheet.",
            )
        ]
    guessed = values["kind_pct"]["estimated"]
    told = f"; {guessed:.0f} % rests on our estimates of generic materials" if guessed else ""
    return [labelled("understood", f"all of the recipe{told}")]


def _seger(values: dict) -> list[str]:
    if values["seger"] is None:
        return []
    columns = [
        [f"{oxide:<6}{moles}" for oxide, moles in _spoken_moles(values["seger"][name], 5)]
        for name in ("fluxes", "stabilisers", "glass_formers")
    ]
    rows = max(map(len, columns))
    lines = ["Seger        fluxes (= 1)    stabilisers     glass formers"]
    for at in range(rows):
        cells = [column[at] if at < len(column) else "" for column in columns]
        lines.append((" " * (LABEL + 2) + "".join(f"{cell:<16}" for cell in cells)).rstrip())
    others = ", ".join(f"{o} {moles}" for o, moles in _spoken_moles(values["seger"]["others"]))
    if others:
        iron = " (all iron as Fe2O3)" if "Fe2O3" in others else ""
        lines.append(labelled("", f"outside the fluxes: {others}{iron}"))
    return [*lines, labelled("", _ratios(values))]


def _spoken_moles(moles: dict[str, float], columns: int = 0) -> list[tuple[str, str]]:
    """Oxides with their moles, without those that two decimals cannot show."""
    told = {oxide: f"{amount:{columns}.2f}" for oxide, amount in moles.items()}
    return [(oxide, text) for oxide, text in told.items() if float(text)]


def _ratios(values: dict) -> str:
    ratio, with_boron = values["silica_to_alumina"], values["silica_and_boron_to_alumina"]
    told = []
    if ratio is not None:
        told.append(f"SiO2:Al2O3 {ratio:.1f}")
        if values["boron"]:
            told.append(f"{with_boron:.1f} with boron")
    told.append(f"B2O3 {values['boron']:.2f}")
    told.append(f"raw clay {values['raw_clay_pct']:.0f} %")
    told.append(f"loss on ignition {values['loss_on_ignition_pct']:.1f} %")
    return ", ".join(told)


def ranged(answer: dict, places: int) -> str:
    """A value with its range."""
    value, low, high = (f"{answer[key]:z.{places}f}" for key in ("value", "low", "high"))
    return f"{value} ({low} to {high})"


def share(percent: float) -> str:
    """A share in whole per cent; never 0 % of what is there."""
    return "below 1 %" if percent < 1 else f"{percent:.0f} %"


def need_not_melt(role: str | None) -> bool:
    """Whether fit and melt say little of it."""
    from tiles.records.words import COLOUR_ROLES

    return role in COLOUR_ROLES


def _expansion(found, values: dict, *, full: bool) -> list[str]:
    answer = values["expansion"]
    if answer is None:
        return []
    if need_not_melt(found.role) and not full:
        told = f"on record as a {found.role}, which need not melt: fit and melt only with --full."
        return [labelled("fit, melt", told)]
    lines = [labelled("expansion", f"{ranged(answer, 1)} ppm/K; nine in ten lie in the range")]
    appen = values["expansion_appen"]
    second = f"Second opinion, Appen's published factors: {appen['value']:.1f}"
    lines.append(labelled("", f"{second} (about {appen['mean_absolute_error']:.1f} off)."))
    limits = [labelled("", _on_own_tiles(*each, answer)) for each in values["own_limits"].items()]
    lines += [*_bodies(values["bodies"], full=full, is_alone=not limits), *limits]
    return lines + [labelled("", f"But: {remark}.") for remark in answer["remarks"]]


def _on_own_tiles(name: str, limit: dict, answer: dict) -> str:
    """Where own tiles put the limit of a body, and on which side of it the glaze lies."""
    value, low, high = (limit[key] for key in ("value", "low", "high"))
    place = "within it: only a tile tells"
    if answer["value"] < low:
        place = "below it, on the safe side"
    elif answer["value"] > high:
        place = "above it: expect crazing"
    return (
        f"{name}: your tiles craze above {value:.1f} ({low:.1f} to {high:.1f}) ppm/K; this glaze, "
        f"{answer['value']:.1f}, lies {place}."
    )


def _bodies(bodies: dict, *, full: bool, is_alone: bool) -> list[str]:
    """The margin to each body that suits the cone; with ``full`` to every body."""
    from tiles.chemistry.expansion import USUAL_MARGIN_PPM_PER_K

    shown = {name: each for name, each in bodies.items() if full or each["is_for_cone"]}
    lines = [labelled("", _beside(name, each)) for name, each in shown.items()]
    if not shown:
        told = "No body for this cone has a measured expansion ('tiles body change')."
        return [labelled("", told)] if is_alone else []
    least, most = USUAL_MARGIN_PPM_PER_K
    aim = f"Margin: body less glaze. Usual aim {least:g} to {most:g} (estimate)"
    return [*lines, labelled("", f"{aim}; a fired tile decides.")]


def _beside(name: str, beside: dict) -> str:
    ends = " to ".join(beside["range_means"])
    span = f"; the range means {ends}" if ends != beside["meaning"] else ""
    return (
        f"{name} {beside['body_ppm_per_k']:g}: margin {beside['margin_ppm_per_k']:z.1f} "
        f"({beside['low']:z.1f} to {beside['high']:z.1f}), {beside['meaning']}{span}"
    )


def _melt(found, values: dict, *, full: bool) -> list[str]:
    answer = values["melt"]
    if need_not_melt(found.role) and not full:
        return []
    if found.cone is None:
        return [labelled("melt", "no cone on its label: add --cone 05.")]
    if answer is None:
        return []
    others = [word for word in answer["words_within"] if word != answer["word"]]
    maybe = f" (or {', '.join(others)})" if others else ""
    where = (
        f"cone {answer['cone']}, {answer['temperature_c']:.0f} C at {answer['rate_c_per_h']:g} C/h"
    )
    known = _memory(answer["temperature_status"])
    told = f"{answer['word']}{maybe} at {where}{known}: log10 viscosity {ranged(answer, 1)} Pa.s"
    tension = values["surface_tension"]
    if tension:
        told += f"; surface tension {ranged(tension, 0)} mN/m"
    said = {*values["expansion"]["remarks"]}
    new = [f"But: {remark}." for remark in answer["remarks"] if remark not in said]
    said |= {*answer["remarks"]}
    of_tension = tension["remarks"] if tension else []
    new += [f"But, surface tension: {remark}." for remark in of_tension if remark not in said]
    return [labelled("melt", told), *(labelled("", text) for text in new)]


def _limits(found, values: dict, *, full: bool) -> list[str]:
    """Author by author; never one verdict."""
    if not values["limits"] or (need_not_melt(found.role) and not full):
        return []
    ranges: dict[tuple, list[dict]] = {}
    for each in values["limits"]:
        ranges.setdefault((each["author"], each["range_title"], each["status"]), []).append(each)
    lines = []
    for (author, title, status), placed in ranges.items():
        if full:
            lines += [f"  {author}, {title}{_memory(status)}", *map(_placed, placed)]
        else:
            lines.append(labelled("", f"{author}, {title}{_memory(status)}: {_brief(placed)}"))
    head = labelled("published", f"ranges at cone {found.cone} (observations, no verdict):")
    return [head, *lines]


def _memory(status: str) -> str:
    return " [from memory]" if status == "memory" else ""


def _placed(each: dict) -> str:
    low = "" if each["low"] is None else f"{each['low']:g}"
    high = "" if each["high"] is None else f"{each['high']:g}"
    span = f"{low} to {high}" if low and high else f"from {low}" if low else f"up to {high}"
    finish = f" ({each['finish']})" if each["finish"] else ""
    return f"    {each['quantity']:<11} {each['value']:6.2f}  {each['place']:<6}  {span}{finish}"


def _brief(placed: list[dict]) -> str:
    if any(each["finish"] for each in placed):
        fitting = [each["finish"] for each in placed if each["place"] == "within"]
        return f"SiO2:Al2O3 {placed[0]['value']:.1f} is {' or '.join(fitting) or 'in no range'}"
    outside = [
        f"{each['quantity']} {each['place']}" for each in placed if each["place"] != "within"
    ]
    return ", ".join(outside) if outside else "all within"


def _cautions(found, *, full: bool) -> list[str]:
    from tiles.chemistry.hazards import REMINDER

    if full:
        lines = [
            labelled("caution", f"{each.hazard} ({', '.join(each.found_in)}): {each.handling}")
            for each in found.cautions
        ]
    else:
        named = "; ".join(f"{each.hazard} ({', '.join(each.found_in)})" for each in found.cautions)
        lines = [labelled("caution", f"{named}; --full tells how to handle it.")] if named else []
    return [*lines, labelled("food", REMINDER)]
