"""All the figures of one recipe, as plain values for the screen, JSON, comparison and blends."""

from tiles.errors import InvalidValue, OutOfRange

APPEN_ERROR_PPM, APPEN_BIAS_PPM = 0.54, 0.31
"""Mean absolute error and bias of Appen's factors against 1500 measured glasses, as its function
says: it comes without an interval of its own. [ppm/K]."""

_COLUMNS = {"flux": "fluxes", "stabiliser": "stabilisers", "glass former": "glass_formers"}


def of_composition(made_of, cone: str | None) -> dict:
    """The figures of a recipe that has been analysed.

    Parameters
    ----------
    made_of : Composition
        From `tiles.records.analyses.composition`.
    cone : str or None
        The cone to tell the melt at; without it the melt is left out.

    Returns
    -------
    dict
        Ready for JSON. A figure that cannot be told is None, and ``cannot_tell`` says why.
    """
    found = _shares(made_of) | _formula(made_of)
    found |= {"expansion": None, "expansion_appen": None, "melt": None, "surface_tension": None}
    found |= {"limits": [], "cannot_tell": []}
    try:
        found |= _seger(made_of)
        found |= _expansion(made_of.mole_percent)
        if cone:
            found |= _melt(made_of.mole_percent, cone)
            found["limits"] = _limits(made_of.unity, cone)
    except (OutOfRange, InvalidValue) as error:
        found["cannot_tell"].append(error.message)
    return found


def _shares(made_of) -> dict:
    return {
        "total_parts": made_of.total_parts,
        "not_understood_pct": made_of.not_understood_percent,
        "suggestions": dict(made_of.suggestions),
        "kind_pct": dict(made_of.kind_percent),
        "raw_clay_pct": made_of.raw_clay_percent,
        "calcined_clay_pct": made_of.calcined_clay_percent,
        "loss_on_ignition_pct": made_of.loss_on_ignition_percent,
    }


def _formula(made_of) -> dict:
    return {
        "silica_to_alumina": made_of.silica_to_alumina,
        "silica_and_boron_to_alumina": made_of.silica_and_boron_to_alumina,
        "seger": None,
        "boron": None,
        "mole_pct": dict(made_of.mole_percent) if made_of.moles else {},
        "weight_pct": dict(made_of.weight_percent) if made_of.moles else {},
    }


def _seger(made_of) -> dict:
    """The Seger formula in the columns potters read it in; what is in none of them apart."""
    from tiles.chemistry.oxides import role

    seger: dict[str, dict[str, float]] = {name: {} for name in (*_COLUMNS.values(), "others")}
    for oxide, moles in made_of.unity.items():
        seger[_COLUMNS.get(role(oxide), "others")][oxide] = moles
    return {"seger": seger, "boron": made_of.boron}


def as_dict(answer, unit: str) -> dict:
    """An estimate as plain values: never without its range."""
    return {
        "value": answer.value,
        "low": answer.low,
        "high": answer.high,
        "unit": unit,
        "remarks": list(answer.remarks),
    }


def _expansion(mole_percent: dict) -> dict:
    from tiles.chemistry import expansion

    appen = {
        "value": expansion.appen(mole_percent),
        "unit": "ppm/K",
        "mean_absolute_error": APPEN_ERROR_PPM,
        "bias": APPEN_BIAS_PPM,
    }
    fitted = as_dict(expansion.estimate(mole_percent), "ppm/K")
    return {"expansion": fitted, "expansion_appen": appen}


def _melt(mole_percent: dict, cone: str) -> dict:
    from tiles.chemistry import cones, melt, surface_tension

    point = cones.end_point(cone)
    answer = melt.estimate(mole_percent, point.temperature_c)
    told = as_dict(answer, "log10 Pa.s") | {
        "cone": point.cone,
        "temperature_c": point.temperature_c,
        "temperature_status": point.status,
        "rate_c_per_h": point.rate_c_per_h,
        "word": melt.word(answer.value),
        "words_within": list(melt.words_within(answer)),
    }
    try:
        tension = surface_tension.estimate(mole_percent, point.temperature_c)
    except OutOfRange as error:
        # Its range of temperature is narrower: the melt is told without it.
        return {"melt": told, "cannot_tell": [error.message]}
    return {"melt": told, "surface_tension": as_dict(tension, "mN/m")}


def _limits(unity: dict, cone: str) -> list[dict]:
    from tiles.chemistry.limits import against_published

    return [vars(each) | {"place": each.place} for each in against_published(unity, cone)]


def margin(expansion: dict, body_ppm_per_k: float) -> dict:
    """A body's measured expansion less a glaze's estimate, and what the margin means.

    Parameters
    ----------
    expansion : dict
        ``value``, ``low``, ``high``. [ppm/K].
    body_ppm_per_k : float
        [ppm/K].

    Returns
    -------
    dict
        ``margin_ppm_per_k`` with ``low`` and ``high``, positive when the glaze shrinks less than
        the body; ``meaning`` of the margin and ``range_means`` of the two ends.
    """
    value, low, high = (body_ppm_per_k - expansion[key] for key in ("value", "high", "low"))
    ends = list(dict.fromkeys((_meaning(low), _meaning(high))))
    return {
        "body_ppm_per_k": body_ppm_per_k,
        "margin_ppm_per_k": value,
        "low": low,
        "high": high,
        "meaning": _meaning(value),
        "range_means": ends,
    }


def _meaning(margin_ppm_per_k: float) -> str:
    from tiles.chemistry.expansion import USUAL_MARGIN_PPM_PER_K

    least, most = USUAL_MARGIN_PPM_PER_K
    if margin_ppm_per_k < 0:
        return "crazing"
    if margin_ppm_per_k < least:
        return "little margin against crazing"
    return "usual aim" if margin_ppm_per_k <= most else "risk of shivering"
