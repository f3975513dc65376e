"""What the user owns, for choosing the next tiles: the most used first."""

from tiles.cli import common


def owned(db: str | None):
    """Bodies, glazes with their recipes and their batches, and bisque cones fired so far."""
    from diagnose.next_tiles.changes import Owned
    from tiles.queries.summaries import with_tile_counts
    from tiles.records import models, reading
    from tiles.records.analyses import own_materials

    with common.reading(db) as session:
        bodies = _most_used(with_tile_counts(session, models.ClayBody))
        glazes = _most_used(glazes_in_use(session))
        own = own_materials(session)
        versions = {
            row.name: [
                reading.recipe_record(each).analysed(own) for each in reversed(row.recipe_versions)
            ]
            for row in glazes
            if row.recipe_versions
        }
        return Owned(
            [reading.body_record(row) for row in bodies],
            [reading.glaze_record(row) for row in glazes],
            {name: newest for name, (newest, *_) in versions.items()},
            _bisque_cones(session),
            batches(glazes),
            versions=versions,
        )


def batches(glazes) -> dict[str, list]:
    """The batches in use of glazes that have several, the newest first, by the glaze's name."""
    from tiles.records import reading

    return {
        row.name: [reading.batch_record(each) for each in row.batches[::-1] if not each.is_retired]
        for row in glazes
        if len(row.batches) > 1
    }


def may_be_taken(row) -> bool:
    """Whether a body or glaze is in use, and its name says which it is: none can fetch a "?"."""
    from tiles.records.words import is_no_name

    return not (row.is_retired or is_no_name(row.name))


def is_only_a_name(glaze, tiles: int) -> bool:
    """Whether nothing is known of a glaze that no tile was made of: often a slip of the name."""
    from tiles.records.words import COLOUR_ROLES

    told = glaze.finish, glaze.cone_low, glaze.cone_high, glaze.recipe_versions, glaze.batches
    return not tiles and not any(told) and glaze.role not in COLOUR_ROLES


def glazes_in_use(session) -> list[tuple]:
    """The glazes that can be proposed, each with its number of tiles."""
    from tiles.queries.summaries import with_tile_counts
    from tiles.records import models

    counted = with_tile_counts(session, models.Glaze)
    return [each for each in counted if may_be_taken(each[0]) and not is_only_a_name(*each)]


def _most_used(counted: list[tuple]) -> list:
    in_use = [(row, tiles) for row, tiles in counted if may_be_taken(row)]
    return [row for row, _ in sorted(in_use, key=lambda each: (-each[1], each[0].name))]


def _bisque_cones(session) -> list[str]:
    """Cones written on tiles, and those bisque firings were set for; coolest first."""
    from sqlalchemy import select

    from tiles.chemistry.cones import step
    from tiles.records import models

    on_tiles = session.scalars(select(models.Tile.bisque_cone).distinct())
    fired = session.scalars(
        select(models.Firing.target_cone).where(models.Firing.kind == "bisque").distinct()
    )
    return sorted({cone for cone in (*on_tiles, *fired) if cone}, key=step)
