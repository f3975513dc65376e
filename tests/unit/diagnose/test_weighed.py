"""What is clear over all tiles of a glaze: it weighs in the causes told below it."""

import pytest

from diagnose.comparing.over_tiles import faults_of, over_tiles
from diagnose.report import why
from tests.unit.diagnose.test_over_tiles import tile
from tiles.records.forms import TileRecord


def wiped(number, answer, failed):
    """A tile of three coats, 1 mm thick, with or without its bisque wiped."""
    made = tile(number, 3, failed)
    made.areas[0].layers[0].thickness_mm = 1.0
    made.clues["bisque_wiped"] = answer
    return made


def test_a_clear_count_over_all_tiles_is_in_the_shares_of_the_causes():
    records = [wiped(n, "no", True) for n in range(9)] + [wiped(20 + n, "yes", False) for n in (1,)]
    alone = over_tiles(records, "pond green", "crawling")
    assert not alone.is_weighed and alone.causes[0].title == "the coat was too thick"
    records += [wiped(30 + n, "yes", False) for n in range(7)]
    told = over_tiles(records, "pond green", "crawling")
    dust = "dust on the bisque kept the glaze from gripping"
    assert told.is_weighed and told.as_dict()["is_weighed"]
    assert (told.causes[0].title, told.causes[0].first_on) == (dust, 9)
    assert sum(each.mean_share for each in told.causes) == pytest.approx(1)


def test_a_tile_on_the_other_side_of_a_clear_count_is_not_moved_by_it():
    records = [wiped(n, "no", n > 0) for n in range(10)]
    records += [wiped(30 + n, "yes", n == 0) for n in range(8)]
    shares = {
        each.title: each.mean_share for each in over_tiles(records, "pond green", "crawling").causes
    }
    moved = shares["dust on the bisque kept the glaze from gripping"]
    (other,) = why(records[10])
    alone = next(each.share for each in other.causes if each.name == "dirty_bisque")
    records.pop(10)
    without = over_tiles(records, "pond green", "crawling").causes[0].mean_share
    assert alone < moved < without


@pytest.mark.parametrize(("words", "first"), [("stuck to the shelf", "other"), ("odd", "crawling")])
def test_faults_without_a_word_of_their_own_come_first_where_nearly_all_are_one(words, first):
    said = ["stuck to the shelf", "stuck on its shelf", "stuck to shelf", words]
    records = [tile(9, 3, True)]
    for number, note in enumerate([*said, "odd"] if words == "odd" else said):
        seen = {"defect": "other", "note": note}
        record = tile(number, 3, False).model_dump()
        record["inspections"][0]["defects"] = [seen]
        records.append(TileRecord.model_validate(record))
    assert next(iter(faults_of(records, "pond green"))) == first
