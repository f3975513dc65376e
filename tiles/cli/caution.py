"""One line of caution beside what is mixed, planned, loaded or handed out: which glaze holds what.

Dust is left out: it is no matter of the one glaze but of all that is mixed.
"""

from collections.abc import Iterable

from tiles.cli import common

MOST_GLAZES = 4
"""Glazes named for one hazard."""
ADVICE = (
    "Breathe no dust or fume; no food use without an accredited test; the data sheet and local "
    "rules decide. More: tiles glaze show NAME"
)

Coats = Iterable[tuple[str, int | None]]
"""Glazes by name, with the recipe version that is on the tile; None: the newest."""


def of_glaze(row, own: tuple, version: int | None = None) -> list:
    """The usual cautions for what a label, or one version of a recipe, names."""
    from diagnose import handling

    return handling.of_glaze(row, _materials(row, version), own)


def _materials(row, version: int | None) -> list[str]:
    """What one version of its recipe is weighed from, or the newest."""
    recipes = [each for each in row.recipe_versions if version in (None, each.version)]
    return [line.material.name for each in recipes[-1:] for line in each.lines]


def by_coat(session, coats: Coats) -> dict[tuple[str, int | None], list[str]]:
    """The hazards that each of some glazes names, the gravest first; no glaze that names none."""
    from tiles.chemistry.hazards import DUSTS
    from tiles.records.analyses import own_materials

    own = own_materials(session)
    found = {
        coat: [each.hazard for each in of_glaze(row, own, coat[1])]
        for coat, row in _rows(session, coats).items()
    }
    told = {
        coat: [each for each in hazards if each not in DUSTS] for coat, hazards in found.items()
    }
    return {coat: _gravest_first(hazards) for coat, hazards in told.items() if hazards}


def unread(session, coats: Coats) -> dict[tuple[str, int | None], list[str]]:
    """What of some glazes the program does not understand; no glaze of which it reads all.

    That is what its label says about food, and each material of its recipe that nobody has an
    analysis of and that by its name is none of those that the screen knows.
    """
    from tiles.records.analyses import own_materials
    from tiles.records.food_label import FoodLabel

    own = own_materials(session)
    found = {}
    for coat, row in _rows(session, coats).items():
        label = row.food_label or ""
        said = [] if FoodLabel(label).is_understood else [label]
        found[coat] = [*said, *_not_known(_materials(row, coat[1]), own)]
    return {coat: told for coat, told in found.items() if told}


def of_coats(known: dict, coats: Coats) -> list[str]:
    """What is known of some coats, each once, in the order of the coats."""
    return list(dict.fromkeys(each for coat in coats for each in known.get(coat, ())))


def _rows(session, coats: Coats) -> dict:
    """The glazes of some coats as they are on record."""
    from sqlalchemy import select

    from tiles.records import models, reading

    wanted = dict.fromkeys(coats)
    names = dict.fromkeys(name for name, _ in wanted)
    chosen = select(models.Glaze).where(models.Glaze.name.in_(names))
    rows = {row.name: row for row in session.scalars(chosen.options(*reading.parts(models.Glaze)))}
    return {coat: rows[coat[0]] for coat in wanted if coat[0] in rows}


def _not_known(names: Iterable[str], own: tuple) -> list[str]:
    from tiles.chemistry.hazards import screen_material
    from tiles.chemistry.materials import fold, index

    known = index(own)
    return [each for each in names if fold(each) not in known and not screen_material(each, own)]


def _gravest_first(hazards: Iterable[str]) -> list[str]:
    from tiles.chemistry.hazards import every_hazard

    return [each for each in every_hazard() if each in {*hazards}]


def held(session, coats: Coats) -> dict[str, list[str]]:
    """The hazards that some glazes name, the gravest first, each with its glazes."""
    coats = [*coats]
    return by_hazard(by_coat(session, coats), coats)


def by_hazard(known: dict, coats: Coats) -> dict[str, list[str]]:
    """The hazards that some glazes name as `by_coat` has them, each with its glazes."""
    found: dict[str, dict[str, None]] = {}
    for name, version in dict.fromkeys(coats):
        for hazard in known.get((name, version), ()):
            found.setdefault(hazard, {})[name] = None
    return {hazard: list(found[hazard]) for hazard in _gravest_first(found)}


def poisons(known: dict, coats: Coats) -> list[str]:
    """Those of the hazards that are poisons (`hazards.poisons`), for a mark on one line."""
    from tiles.chemistry.hazards import poisons

    return [each for each in by_hazard(known, coats) if each in poisons()]


def line(found: dict[str, list[str]]) -> list[str]:
    """The caution as one line; none where nothing is named."""
    from tiles.chemistry.hazards import in_words
    from tiles.records.spoken import some

    told = [f"{in_words(hazard)} in {some(names, MOST_GLAZES)}" for hazard, names in found.items()]
    return [f"Caution, by recipe or label: {'; '.join(told)}. {ADVICE}"] if told else []


def unknown_materials(names: Iterable[str], own: tuple) -> list[str]:
    """A line for each hazard that names tell of which nobody has an analysis of."""
    from diagnose import handling
    from tiles.chemistry.hazards import DUSTS

    found = [each for each in handling.of_materials(names, own) if each.hazard not in DUSTS]
    return [f"Caution: {told}" for told in handling.spoken(found)]


def tell(coats: Coats, db: str | None) -> None:
    """Say it to the person, and what of the glazes was not understood."""
    coats = [*coats]
    with common.reading(db) as session:
        told = [*line(held(session, coats)), *_not_understood(unread(session, coats))]
    for each in told:
        common.talk(each)


def _not_understood(found: dict) -> list[str]:
    from tiles.records.spoken import some

    told = [f'"{text}" of {name}' for (name, _), texts in found.items() for text in texts]
    named = some(list(dict.fromkeys(told)), MOST_GLAZES)
    return [f"Not understood: {named}. It may name a poison: read it yourself."] if told else []


def on_tiles(records: Iterable) -> list[tuple[str, int | None]]:
    """The glazes on some tiles, as the tiles have them."""
    layers = [layer for each in records for area in each.areas for layer in area.layers]
    return [(each.glaze.name, each.recipe and each.recipe.version) for each in layers]


def on_areas(areas: Iterable) -> list[tuple[str, int | None]]:
    """The glazes on areas that a search found."""
    return [each for area in areas for each in zip(area.glazes, area.versions, strict=True)]
