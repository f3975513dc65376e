"""Tiles by a yes or no that was recorded of them: dusty bisque, a coat that was damp."""

from sqlalchemy import and_, exists, or_

from tiles.records import models


def clue_is(name: str, answer: str):
    """SQL for the areas of which a clue has this answer: their own, else that of the whole tile."""
    clue, area = models.TileClue, models.Area
    of_tile = (clue.tile_id == models.Tile.tile_id, clue.clue == name)
    of_area = (*of_tile, clue.area_id == area.area_id)
    of_whole = exists().where(*of_tile, clue.area_id.is_(None), clue.answer == answer)
    own = exists().where(*of_area, clue.answer == answer)
    return or_(own, and_(of_whole, ~exists().where(*of_area)))
