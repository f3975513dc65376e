"""Measures of the coat and the layers as they were put on."""

from collections.abc import Iterator

from diagnose.view import View, spoken_coats, total_of

Reading = tuple[str, float | str | None, str]


def number(name: str, value: float | None, said: str) -> Reading:
    """A number with how it is said, such as "rose {:g} °C an hour"; what is blank stays blank."""
    return name, value, "" if value is None else said.format(value)


def read(view: View) -> Iterator[Reading]:
    """Coats, thicknesses, layers beneath, method and the batch used."""
    yield from _coat(view)
    yield from _layers(view)
    if view.top is not None:
        yield from _top_layer(view)
        yield from _batch(view.top.batch)
    if view.area is not None:
        yield "surface", view.area.surface, f"{view.area.surface} surface"


def _coat(view: View) -> Iterator[Reading]:
    melting = view.coated or view.layers
    total = " in all" if len(melting) > 1 else ""
    coats = total_of(melting, "coats")
    if coats is not None:
        yield "coats", coats, f"{spoken_coats(coats)}{total}"
    for name, when in (("thickness_mm", "dry, as applied"), ("fired_thickness_mm", "after firing")):
        yield number(name, total_of(melting, name), f"coat {{:g}} mm {when}{total}")


def _layers(view: View) -> Iterator[Reading]:
    if not view.glazes:
        return
    names = " and ".join(layer.glaze.name for layer in view.glazes)
    count = len(view.glazes)
    said = f"two or more glazes lie over each other here ({names})" if count > 1 else "one glaze"
    yield "glazes_on_area", count, said
    if not view.colours:
        yield "colour_coats_beneath", 0, "no underglaze, slip or oxide under the glaze"
        return
    beneath = " and ".join(layer.glaze.name for layer in view.colours)
    lie = "lies" if len(view.colours) == 1 else "lie"
    coats = total_of(view.colours, "coats")
    yield "colour_beneath", view.colours[-1].glaze.role, f"{beneath} {lie} under the glaze"
    name, put_on = view.colours[-1].glaze.name, view.colours[-1].applied_on
    yield "colour_applied_on", put_on, f"{name} was put on {put_on}"
    lowest = view.colours[0]
    if lowest.glaze.role == "slip" and lowest.applied_on is not None:
        yield "slip_applied_on", lowest.applied_on, f"{beneath} was put on {lowest.applied_on}"
    if coats is not None:
        said = f"{spoken_coats(coats)} of {beneath} under the glaze"
        yield "colour_coats_beneath", coats, said


def _top_layer(view: View) -> Iterator[Reading]:
    top = view.top
    glaze = top.glaze
    yield "method", top.method, f"put on by {top.method}"
    yield "applied_on", top.applied_on, f"glazed on {top.applied_on}"
    yield "beneath", view.state_beneath, f"the layer beneath was {top.beneath}"
    yield "finish", glaze.finish, f"{glaze.name} is a {glaze.finish} glaze"
    article = "an" if glaze.role and glaze.role.startswith("u") else "a"
    yield "role", glaze.role, f"{glaze.name} is {article} {glaze.role}"
    is_dry = glaze.kind == "jar" and glaze.supplied_as == "dry"
    came = "is a bought dry mix" if is_dry else f"comes from a {glaze.kind}"
    yield "glaze_kind", glaze.kind, f"{glaze.name} {came}"
    yield "supplied_as", glaze.supplied_as, f"bought {glaze.supplied_as}"


def _batch(batch) -> Iterator[Reading]:
    if batch is None:
        return
    yield number("specific_gravity", batch.specific_gravity, "specific gravity {:g}")
    yield "sieve_mesh", batch.sieve_mesh, f"sieved {batch.sieve_mesh} mesh"
    whole = batch.dry_portion == "whole bag"
    said = "mixed from a whole bag" if whole else "mixed from part of a bag"
    yield "dry_portion", batch.dry_portion, said
    if batch.is_revived is not None:
        said = "revived from a dried-out jar" if batch.is_revived else "never dried out"
        yield "revived", "yes" if batch.is_revived else "no", said
