"""``tiles cone``: cones to temperature, temperature to cones, and a kiln log to the cone."""

from pathlib import Path
from typing import Annotated

import typer

from tiles.cli import common, output
from tiles.cli.cone_units import (
    RATE_C,
    RATE_F,
    TEMPERATURE_C,
    TEMPERATURE_F,
    Unit,
    in_the_unit_meant,
)
from tiles.errors import InvalidValue

PUBLISHED = {"read": "chart", "memory": "from memory, to be confirmed"}
TAKEN_AS_C = "The log names no unit: read as C. Name its column temperature_f if it is in F."
DECIDES = "A witness cone beside the ware decides, not the thermometer."

SELF_SUPPORTING = "self-supporting"

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
        float | None, common.number("Which cone a temperature in C is.", "C")
    ] = None,
    temperature_f: Annotated[float | None, common.number("The same in F.", "F")] = None,
    rate_c_per_h: Annotated[
        float | None,
        common.number("Heating rate over the last 100 C [C/h]; default 60 (small: 300).", "C/h"),
    ] = None,
    rate_f_per_h: Annotated[float | None, common.number("The same in F/h.", "F/h")] = None,
    cone_type: Annotated[
        str, typer.Option(help="self-supporting, large, small, or one of these iron-free.")
    ] = SELF_SUPPORTING,
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
    temperature = _given(temperature_c, TEMPERATURE_C, temperature_f, TEMPERATURE_F)
    rate = _given(rate_c_per_h, RATE_C, rate_f_per_h, RATE_F)
    how = {"as_json": as_json, "as_csv": as_csv}
    cone_type = _read_type(cone_type)
    if kiln_log is not None:
        _log_alone(rate, cone_type)
        _show_log(kiln_log, **how)
    elif temperature is None:
        _show_end_points(name, rate, cone_type, **how)
    else:
        _show_reading(temperature, rate, cone_type, **how)


def _read_type(cone_type: str) -> str:
    from tiles.chemistry.cones import read_cone_type

    return read_cone_type(cone_type)


def _log_alone(rate, cone_type: str) -> None:
    if rate is not None:
        raise InvalidValue("a rate beside a kiln log.", "leave it out: the log tells the rate.")
    if cone_type != SELF_SUPPORTING:
        raise InvalidValue(
            f"a kiln log with {cone_type} cones: it is told for self-supporting ones only.",
            "leave --cone-type out.",
            field="cone_type",
            value=cone_type,
        )


def _one_question(name, temperature_c, temperature_f, kiln_log) -> None:
    asked = [name, temperature_c if temperature_c is not None else temperature_f, kiln_log]
    if sum(each is not None for each in asked) > 1:
        raise InvalidValue(
            "more than one question at once.", "a cone, a temperature or a kiln log alone."
        )


def _one_unit(what: str, in_c: float | None, in_f: float | None) -> None:
    if in_c is not None and in_f is not None:
        raise InvalidValue(f"the {what} is given in C and in F.", "one of the two.", field=what)


def _given(in_c, c: Unit, in_f, f: Unit) -> tuple[float, Unit] | None:
    """The number and the unit it was given in."""
    if in_c is None and in_f is None:
        return None
    return (in_c, c) if in_f is None else (in_f, f)


def _show_end_points(name, rate, cone_type, *, as_json, as_csv) -> None:
    points = _end_points(name, rate, cone_type)
    found = [_end_point_row(point) for point in points]
    output.rows(found, END_POINTS, as_json=as_json, as_csv=as_csv, empty="Nothing published.")
    if not (as_json or as_csv):
        if name is None and rate is not None:
            _say_what_is_left_out(points)
        common.talk(f"Rate over the last 100 C, no hold; {cone_type} cones. {DECIDES}")


def _end_points(name, rate, cone_type) -> list:
    from tiles.chemistry import cones

    if name is None:
        if rate is not None:
            return in_the_unit_meant(*rate, lambda rate_c: cones.end_points(rate_c, cone_type))
        return [point for each in cones.CONES for point in cones.temperatures(each, cone_type)]
    one = cones.read_cone(name)
    if rate is not None:
        return in_the_unit_meant(*rate, lambda rate_c: [cones.end_point(one, rate_c, cone_type)])
    found = cones.temperatures(one, cone_type)
    return found or [cones.end_point(one, cone_type=cone_type)]  # which says why there are none


def _say_what_is_left_out(points) -> None:
    from tiles.chemistry.cones import CONES

    shown = {point.cone for point in points}
    if missing := [each for each in CONES if each not in shown]:
        common.talk(f"Not published at {points[0].rate_c_per_h:g} C/h: {', '.join(missing)}.")


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


def _show_reading(temperature, rate, cone_type, *, as_json, as_csv) -> None:
    from tiles.chemistry.cones import usual_rate_c_per_h

    rate = rate or (usual_rate_c_per_h(cone_type), RATE_C)
    row = in_the_unit_meant(
        *rate,
        lambda rate_c: in_the_unit_meant(
            *temperature, lambda in_c: _reading_row(in_c, rate_c, cone_type)
        ),
    )
    if as_json or as_csv:
        output.rows([row], {}, as_json=as_json, as_csv=as_csv, empty="")
        return
    where = f"cone {row['cooler']} exactly"
    if row["cooler"] != row["hotter"]:
        where = f"between cone {row['cooler']} (down) and {row['hotter']} (not yet)"
    _tell(
        f"{row['temperature_c']:g} C ({row['temperature_f']:g} F) at {row['rate_c_per_h']:g} C/h "
        f"without a hold: {where}, nearest {row['nearest']}."
    )
    common.talk(f"Known from: {PUBLISHED[row['status']]}. {DECIDES}")


def _reading_row(temperature_c: float, rate: float, cone_type: str) -> dict:
    from tiles.chemistry import cones

    found = cones.cone_for(temperature_c, rate, cone_type)
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
    from tiles.chemistry.kiln_log import is_taken_as_celsius, read_log
    from tiles.cli.user_files import readable

    with readable(file, "a CSV file with the columns time_h,temperature_c."):
        readings = read_log(file)
    found = cone_reached(readings)
    cautions = [*found.cautions, *([TAKEN_AS_C] if is_taken_as_celsius(file) else [])]
    row = vars(found) | {"cautions": cautions, "readings": len(readings)}
    if as_json or as_csv:
        output.rows([row], {}, as_json=as_json, as_csv=as_csv, empty="")
        return
    beyond = f"cone {found.hotter} not yet" if found.hotter else "the hottest on the chart"
    _tell(f"By this log cone {found.cooler} is down, {beyond}; nearest is cone {found.nearest}.")
    climb = "no climb"
    if found.rate_c_per_h is not None:
        climb = f"{found.rate_c_per_h:.0f} C/h over the last 100 C"
    _tell(
        f"Peak {found.peak_c:.0f} C, {climb}, "
        f"held {found.hold_min:.0f} min within 5 C of the peak ({len(readings)} readings)."
    )
    for caution in cautions:
        _tell(f"Note: {caution}")
    common.talk(f"Known from: {PUBLISHED[found.status]}. {DECIDES}")


def _tell(sentence: str) -> None:
    from tiles.cli.prose import wrap

    print("\n".join(wrap(sentence)))
