"""``tiles cone``: cones to temperature, temperature to cones, and a kiln log to the cone."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common, output
from tiles.errors import InvalidValue, OutOfRange, Questioned

PUBLISHED = {"read": "chart", "memory": "from memory, to be confirmed"}
DECIDES = "A witness cone beside the ware decides, not the thermometer."

END_POINTS = {
    "cone": "cone",
    "rate_c_per_h": "C/h",
    "rate_f_per_h": "F/h",
    "temperature_c": "C",
    "temperature_f": "F",
    "known_from": "known from",
}


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("cone")(cone)


def cone(
    name: Annotated[str | None, typer.Argument(metavar="CONE", help="Such as 05, 6, 5½.")] = None,
    temperature_c: Annotated[
        float | None, typer.Option(help="Which cone a temperature in C is.")
    ] = None,
    temperature_f: Annotated[float | None, typer.Option(help="The same in F.")] = None,
    rate_c_per_h: Annotated[
        float | None, typer.Option(help="Heating rate over the last 100 C [C/h]; default 60.")
    ] = None,
    rate_f_per_h: Annotated[float | None, typer.Option(help="The same in F/h.")] = None,
    cone_type: Annotated[
        str, typer.Option(help="self-supporting, large, small, or one of these iron-free.")
    ] = "self-supporting",
    kiln_log: Annotated[
        Path | None, typer.Option(help="CSV of time_h,temperature_c: the cone it should reach.")
    ] = None,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
) -> None:
    """Tell what temperature a cone bends at, which cone a temperature is, or what a log reached.

    Examples: tiles cone 05; tiles cone --temperature-c 1040 --rate-c-per-h 60;
    tiles cone --kiln-log firing.csv
    """
    _one_question(name, temperature_c, temperature_f, kiln_log)
    _one_unit("temperature", temperature_c, temperature_f)
    _one_unit("rate", rate_c_per_h, rate_f_per_h)
    rate = rate_f_per_h / 1.8 if rate_f_per_h is not None else rate_c_per_h
    how = {"as_json": as_json, "as_csv": as_csv}
    if kiln_log is not None:
        if rate is not None:
            raise InvalidValue("a rate beside a kiln log.", "leave it out: the log tells the rate.")
        _show_log(kiln_log, **how)
    elif temperature_c is None and temperature_f is None:
        _show_end_points(name, rate, cone_type, **how)
    else:
        _show_reading(temperature_c, temperature_f, rate, cone_type, **how)


def _one_question(name, temperature_c, temperature_f, kiln_log) -> None:
    asked = [name, temperature_c if temperature_c is not None else temperature_f, kiln_log]
    if sum(each is not None for each in asked) > 1:
        raise InvalidValue(
            "more than one question at once.", "a cone, a temperature or a kiln log alone."
        )


def _one_unit(what: str, in_c: float | None, in_f: float | None) -> None:
    if in_c is not None and in_f is not None:
        raise InvalidValue(f"the {what} is given in C and in F.", "one of the two.", field=what)


def _show_end_points(name, rate, cone_type, *, as_json, as_csv) -> None:
    from tiles.chemistry import cones

    if name is None:
        names = [each for each in cones.CONES if cones.published_rates(each, cone_type)]
    else:
        names = [cones.read_cone(name)]
    points = [
        point
        for each in names
        for point in (
            cones.temperatures(each, cone_type)
            if rate is None
            else [_with_rate_question(rate, lambda r, n=each: cones.end_point(n, r, cone_type))]
        )
    ]
    if not points:
        cones.end_point(names[0], cones.MEDIUM_RATE_C_PER_H, cone_type)  # says why there are none
    found = [_end_point_row(point) for point in points]
    output.rows(found, END_POINTS, as_json=as_json, as_csv=as_csv, empty="Nothing published.")
    if not (as_json or as_csv):
        common.talk(f"Rate over the last 100 C, no hold; {cone_type} cones. {DECIDES}")


def _end_point_row(point) -> dict:
    known = PUBLISHED[point.status]
    return {
        "cone": point.cone,
        "rate_c_per_h": round(point.rate_c_per_h, 1),
        "rate_f_per_h": round(point.rate_c_per_h * 1.8),
        "temperature_c": round(point.temperature_c),
        "temperature_f": round(point.temperature_f),
        "status": point.status,
        "is_estimated": point.is_estimated,
        "known_from": f"between published values ({known})" if point.is_estimated else known,
    }


def _with_rate_question(rate: float, ask):
    """Run ``ask(rate)``; a rate that only makes sense in F/h is asked about."""
    try:
        return ask(rate)
    except OutOfRange as error:
        if error.field != "rate_c_per_h" or not error.hint.endswith("in F?"):
            raise
        in_c = f"{rate:g} F/h is {rate / 1.8:.0f} C/h"
        question = f"{rate:g} C/h is faster than any published; {in_c}."
        if not _is_fahrenheit(question, f"--rate-f-per-h {rate:g} if it is in F."):
            raise
        return ask(rate / 1.8)


def _is_fahrenheit(question: str, hint: str) -> bool:
    """Whether the person meant F; without a person the question is the error."""
    if not common.is_interactive():
        raise Questioned(question, hint)
    common.talk(question)
    return typer.confirm("Did you mean F?", default=False, err=True)


def _show_reading(temperature_c, temperature_f, rate, cone_type, *, as_json, as_csv) -> None:
    from tiles.chemistry import cones

    rate = cones.MEDIUM_RATE_C_PER_H if rate is None else rate
    if temperature_f is not None:
        temperature_c = cones.fahrenheit_to_celsius(temperature_f)
    row = _with_rate_question(rate, lambda each: _reading_row(temperature_c, each, cone_type))
    if as_json or as_csv:
        output.rows([row], {}, as_json=as_json, as_csv=as_csv, empty="")
        return
    where = f"cone {row['cooler']} exactly"
    if row["cooler"] != row["hotter"]:
        where = f"between cone {row['cooler']} (down) and {row['hotter']} (not yet)"
    print(
        f"{row['temperature_c']:g} C ({row['temperature_f']:g} F) at {row['rate_c_per_h']:g} C/h "
        f"without a hold: {where}, nearest {row['nearest']}."
    )
    common.talk(f"Known from: {PUBLISHED[row['status']]}. {DECIDES}")


def _reading_row(temperature_c: float, rate: float, cone_type: str) -> dict:
    from tiles.chemistry import cones

    try:
        found = cones.cone_for(temperature_c, rate, cone_type)
    except OutOfRange as error:
        if error.field != "temperature_c" or not error.hint.endswith("in F?"):
            raise
        in_c = cones.fahrenheit_to_celsius(temperature_c)
        question = (
            f"{temperature_c:g} C is hotter than any cone; {temperature_c:g} F is {in_c:.0f} C."
        )
        if not _is_fahrenheit(question, f"--temperature-f {temperature_c:g} if it is in F."):
            raise
        return _reading_row(in_c, rate, cone_type)
    return {
        "temperature_c": round(temperature_c, 1),
        "temperature_f": round(cones.celsius_to_fahrenheit(temperature_c)),
        "rate_c_per_h": round(rate, 1),
        "cooler": found.cooler,
        "hotter": found.hotter,
        "nearest": found.nearest,
        "position": round(found.position, 2),
        "status": found.status,
    }


def _show_log(file: Path, *, as_json, as_csv) -> None:
    from tiles.chemistry.heatwork import cone_reached
    from tiles.chemistry.kiln_log import read_log

    try:
        readings = read_log(file)
    except (OSError, UnicodeDecodeError) as error:
        raise InvalidValue(
            f"{file} cannot be read ({_reason(error)}).",
            "a CSV file with the columns time_h,temperature_c.",
        ) from error
    found = cone_reached(readings)
    row = vars(found) | {"cautions": list(found.cautions), "readings": len(readings)}
    if as_json or as_csv:
        output.rows([row], {}, as_json=as_json, as_csv=as_csv, empty="")
        return
    print(
        f"This log should have reached cone {found.nearest}: {found.cooler} down, "
        f"{found.hotter} not yet."
    )
    print(
        f"Peak {found.peak_c:.0f} C, {found.rate_c_per_h:.0f} C/h over the last 100 C, "
        f"held {found.hold_min:.0f} min within 5 C of the peak ({len(readings)} readings)."
    )
    for caution in found.cautions:
        print(f"Note: {caution}")
    common.talk(f"Known from: {PUBLISHED[found.status]}. {DECIDES}")


def _reason(error: Exception) -> str:
    return getattr(error, "strerror", None) or "it is not UTF-8 text"
