"""``tiles recipe show``: one version of a recipe with all its figures."""

from dataclasses import dataclass
from typing import Annotated, Any

import typer

from tiles.cli import body_limits, common, figures, output
from tiles.cli.recipe_text import card
from tiles.cli.weighing import check_batch
from tiles.errors import InvalidValue, UnknownName

Cone = Annotated[
    str | None, typer.Option(help="Tell the melt at this cone; default: middle of the label's.")
]


@dataclass(frozen=True)
class OnRecord:
    """One version of a recipe as it is on record."""

    name: str
    role: str
    versions: int
    recipe: Any
    made_of: Any
    cautions: list
    cone: str | None
    label: dict[str, str | None]

    @property
    def title(self) -> str:
        """Name and version."""
        return f"{self.name} version {self.recipe.version}"


def show(
    name: Annotated[str, typer.Argument(help="The glaze; NAME@1 for version 1.")],
    version: Annotated[int | None, typer.Option(help="Default: the newest.")] = None,
    cone: Cone = None,
    batch_g: Annotated[float | None, common.number("Weigh out a dry batch [g].", "g")] = None,
    full: Annotated[bool, typer.Option("--full", help="Every range, caution and remark.")] = False,
    as_json: common.AsJson = False,
    db: common.Db = None,
) -> None:
    """Show a recipe: Seger formula, fit beside your bodies, melt at a cone, batch weights.

    Example: tiles recipe show "satin white" --cone 05 --batch-g 2000
    """
    with common.reading(db) as session:
        found = fetch(session, name, version, cone)
        bodies = measured_bodies(session)
    values = figures.of_composition(found.made_of, found.cone)
    values["bodies"] = _beside(values["expansion"], bodies, found.cone)
    values["own_limits"] = body_limits.known(found.cone, db) if values["expansion"] else {}
    values["batch"] = weigh(found.recipe, batch_g)
    if as_json:
        output.print_json(_as_json(found, values))
    else:
        print("\n".join(card(found, values, batch_g=batch_g, full=full)))


def fetch(session, name: str, version: int | None, cone: str | None) -> OnRecord:
    """A recipe by ``NAME`` or ``NAME@VERSION``, analysed and screened."""
    from tiles.chemistry.cones import read_cone
    from tiles.chemistry.hazards import screen_recipe
    from tiles.records import models, store
    from tiles.records.analyses import composition, own_materials

    name, version = _one_version(name, version)
    try:
        recipe = store.find_recipe(session, name, version)
    except UnknownName as error:
        error.hint = error.hint.replace("tiles glaze", "tiles recipe")
        raise
    glaze = store.find(session, models.Glaze, name)
    own = own_materials(session)
    return OnRecord(
        name=glaze.name,
        role=glaze.role,
        versions=len(glaze.recipe_versions),
        recipe=recipe,
        made_of=composition(recipe, own),
        cautions=screen_recipe(recipe.base, extras=recipe.extras, own=own),
        cone=read_cone(cone) if cone else _label_cone(glaze),
        label={"cone_low": glaze.cone_low, "cone_high": glaze.cone_high},
    )


def split_version(text: str) -> tuple[str, int | None]:
    """``house clear@1`` as the name and the version."""
    name, sign, version = text.rpartition("@")
    return (name.strip(), int(version)) if sign and version.isdecimal() else (text, None)


def _one_version(text: str, version: int | None) -> tuple[str, int | None]:
    name, named = split_version(text)
    if named is not None and version not in (None, named):
        raise InvalidValue(
            f"{text!r} is version {named}, --version says {version}.",
            "one of the two.",
            field="version",
            value=version,
        )
    return name, named if version is None else version


def shared_cone(records: list[OnRecord], asked: str | None) -> tuple[str | None, str | None]:
    """The one cone to tell several recipes at, and a line to say where their labels differ."""
    cones = {each.title: each.cone for each in records if each.cone}
    cone = next(iter(cones.values()), None)
    if asked or len(set(cones.values())) < 2:
        return cone, None
    told = ", ".join(f"{title} {each}" for title, each in cones.items())
    return cone, f"the labels mean different cones ({told}); --cone for another than {cone}."


def _label_cone(glaze) -> str | None:
    """The middle of a label's cone range; the hotter one where two whole cones share it."""
    from math import ceil

    from tiles.chemistry.cones import cone_at, step
    from tiles.records.derived import label_range

    known = label_range(glaze)
    return cone_at(ceil(sum(map(step, known)) / 2)) if known else None


def measured_bodies(session) -> list:
    """Bodies in use that have a measured expansion, by name."""
    from sqlalchemy import select

    from tiles.records import models

    in_use = (
        select(models.ClayBody)
        .where(models.ClayBody.expansion_ppm_per_k.is_not(None))
        .where(models.ClayBody.is_retired.is_(False))
        .order_by(models.ClayBody.name)
    )
    return list(session.scalars(in_use))


def _beside(expansion: dict | None, bodies: list, cone: str | None) -> dict[str, dict]:
    """The margin to each body, and whether the body is one for the cone."""
    if expansion is None:
        return {}
    return {
        body.name: figures.margin(expansion, body.expansion_ppm_per_k)
        | {"is_for_cone": is_for_cone(body, cone)}
        for body in bodies
    }


def is_for_cone(body, cone: str | None) -> bool:
    """Whether its label allows the cone; a body without a range may be for any."""
    from tiles.chemistry.cones import in_range
    from tiles.records.derived import label_range

    known = label_range(body)
    return not (cone and known) or in_range(cone, *known)


def weigh(recipe, batch_g: float | None) -> dict[str, float] | None:
    """Grams of each material for a dry batch, None when none is asked for."""
    from tiles.chemistry.recipes import weigh_out

    if batch_g is None:
        return None
    return weigh_out(recipe.base, check_batch(batch_g), extras=recipe.extras)


def _as_json(found: OnRecord, values: dict) -> dict:
    from tiles.chemistry.hazards import REMINDER

    return {
        "glaze": found.name,
        "role": found.role,
        **found.recipe.model_dump(),
        **values,
        "cautions": [vars(each) for each in found.cautions],
        "reminder": REMINDER,
    }
