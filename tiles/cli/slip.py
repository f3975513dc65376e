"""``tiles slip``: specific gravity to dry content, water, litres, coats and area."""

from typing import Annotated

import typer

from tiles.cli import common, output
from tiles.errors import InvalidValue

COLUMNS = {"what": "what", "value": "value", "unit": "unit"}

DUST = "Dry glaze is dust with free silica: wear a fitted dust mask, clean up wet, never sweep."


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("slip")(slip)


def slip(
    sg: Annotated[
        float | None,
        common.number("Specific gravity: grams in 100 mL / 100, such as 1.45.", "g/mL"),
    ] = None,
    mass_g: Annotated[
        float | None, common.number("Weight of --measured-ml of it, instead of --sg.", "g")
    ] = None,
    measured_ml: Annotated[
        float | None, common.number("Volume weighed with --mass-g.", "mL")
    ] = None,
    volume_l: Annotated[float | None, common.number("Litres in the bucket.", "L")] = None,
    to_sg: Annotated[float | None, common.number("Specific gravity to thin it to.", "g/mL")] = None,
    dry_g: Annotated[
        float | None, common.number("Dry mass to mix: a whole bag, as part of one sorts.", "g")
    ] = None,
    grain_sg: Annotated[
        float | None, common.number("Specific gravity of the dry grain; default 2.6.", "g/mL")
    ] = None,
    thickness_mm: Annotated[
        float | None, common.number("Dry coat wanted, for coats and area; default 0.6.", "mm")
    ] = None,
    as_json: common.AsJson = False,
    as_csv: common.AsCsv = False,
) -> None:
    """Work out a bucket: dry content, water for another specific gravity, litres, coats.

    Examples: tiles slip --sg 1.45 --volume-l 5 --to-sg 1.40; tiles slip --sg 1.45 --dry-g 1000
    """
    from tiles.chemistry.slip import USUAL_COAT_MM, USUAL_GRAIN_SG, check_specific_gravity

    output.refuse_two_forms(as_json=as_json, as_csv=as_csv)
    now = check_specific_gravity(_specific_gravity(sg, mass_g, measured_ml))
    grain = USUAL_GRAIN_SG if grain_sg is None else grain_sg
    coat_mm = USUAL_COAT_MM if thickness_mm is None else thickness_mm
    if to_sg is not None and volume_l is None:
        raise InvalidValue("--to-sg without the litres in the bucket.", "--volume-l 5.")
    found = {
        **_content(now, grain),
        **_bucket(now, grain, volume_l, to_sg),
        **_mix(now, grain, dry_g),
        **_coats(now if to_sg is None else to_sg, grain, coat_mm),
        **_areas(now, grain, coat_mm, volume_l, dry_g),
    }
    if as_json:
        output.print_json({key: value for key, (_, value, _) in found.items()})
        return
    lines = [{"what": what, "value": v, "unit": unit} for what, v, unit in found.values()]
    output.rows(lines, COLUMNS, as_json=False, as_csv=as_csv, empty="")
    if not as_csv:
        common.talk(f"Grain of SG {grain:g}. Coats and area are rough estimates: measure one.")
        if dry_g is not None:
            common.talk(DUST)


def _specific_gravity(sg, mass_g, measured_ml) -> float:
    from tiles.chemistry.slip import specific_gravity

    if sg is not None and mass_g is None and measured_ml is None:
        return sg
    if sg is None and mass_g is not None and measured_ml is not None:
        return specific_gravity(mass_g, measured_ml)
    raise InvalidValue(
        "the specific gravity is not given once.", "--sg 1.45, or --mass-g 145 --measured-ml 100."
    )


def _content(now: float, grain: float) -> dict:
    from tiles.chemistry.slip import dry_content_g_per_l

    return {
        "specific_gravity": ("specific gravity", round(now, 3) if now >= 1.001 else now, ""),
        "dry_content_g_per_l": ("dry in a litre", round(dry_content_g_per_l(now, grain)), "g"),
    }


def _bucket(now: float, grain: float, volume_l: float | None, to_sg: float | None) -> dict:
    from tiles.chemistry import slip as sums

    if volume_l is None:
        return {}
    dry = sums.dry_content_g(volume_l, now, grain)
    found = {
        "volume_l": ("in the bucket", volume_l, "L"),
        "dry_in_bucket_g": ("dry in the bucket", round(dry), "g"),
    }
    if to_sg is None:
        return found
    water = sums.water_to_add_g(volume_l, now, to_sg)
    return found | {
        "to_specific_gravity": ("thinned to", to_sg, ""),
        "water_to_add_g": ("water to add", round(water), "g (= mL)"),
        "volume_after_l": ("then in the bucket", round(volume_l + water / 1000, 2), "L"),
    }


def _mix(now: float, grain: float, dry_g: float | None) -> dict:
    from tiles.chemistry import slip as sums

    if dry_g is None:
        return {}
    return {
        "dry_g": ("dry to mix", dry_g, "g"),
        "water_for_dry_g": ("water for it", round(sums.water_for_g(dry_g, now, grain)), "g (= mL)"),
        "makes_l": ("which makes", round(sums.volume_l(dry_g, now, grain), 2), "L"),
    }


def _coats(sg: float, grain: float, thickness_mm: float) -> dict:
    """Of the slop as it is brushed: the thinned one where it is to be thinned."""
    from tiles.chemistry import slip as sums

    coat = sums.brushed_coat_mm(sg, grain)
    return {
        "brushed_coat_mm": (f"one brushed coat at {sg:.6g}, dry, about", _figures(coat), "mm"),
        "brush_coats": (
            f"coats for {thickness_mm:g} mm dry, about",
            sums.brush_coats(thickness_mm, sg, grain),
            "coats",
        ),
    }


def _figures(value: float) -> float:
    """Two decimals, or two figures of what is less."""
    return round(value, 2) if value >= 0.1 else float(f"{value:.2g}")


def _areas(now, grain, thickness_mm, volume_l, dry_g) -> dict:
    """What the bucket covers and what the dry bag covers, each for itself."""
    from tiles.chemistry import slip as sums

    found = {}
    if volume_l is not None:
        area = sums.area_covered_m2(sums.dry_content_g(volume_l, now, grain), thickness_mm)
        told = f"the bucket covers at {thickness_mm:g} mm, about"
        found["bucket_area_m2"] = (told, _figures(area), "m2")
    if dry_g is not None:
        area = sums.area_covered_m2(dry_g, thickness_mm)
        told = f"the dry {dry_g:.10g} g cover at {thickness_mm:g} mm, about"
        found["mix_area_m2"] = (told, _figures(area), "m2")
    return found
