"""What two facts together tell of a glaze reaches the screen of a tile that has both."""

import pytest

from diagnose.comparing.of_glaze import pair_of, with_pairs
from diagnose.comparing.over_tiles import over_tiles
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile
from tests.unit.diagnose.test_late_looks import LATE, UNLOADED
from tests.unit.diagnose.test_late_looks import tile as late_tile
from tiles.cli.why_screen import lines

CLEAR = {"name": "dew", "kind": "jar", "role": "glaze", "finish": "clear"}


def coated(number, failed, coats, bag):
    layer = {"glaze": CLEAR, "coats": coats, "batch": {"name": bag}}
    return tile(number, defects=["cloudiness"] * failed, areas=[{"number": 1, "layers": [layer]}])


def bag_7():
    """Bag 7 is cloudy where it is thick, the other bags are clear whatever the coats."""
    bags = [("bag 7", 3, 6), ("bag 7", 2, 8), ("bag 1", 3, 8), ("bag 1", 2, 8)]
    made = [(bag, coats) for bag, coats, many in bags for _ in range(many)]
    return [coated(n, n < 6, coats, bag) for n, (bag, coats) in enumerate(made)]


def asked(at, records):
    others = [each for n, each in enumerate(records) if n != at]
    (found,) = with_pairs(why(records[at], "cloudiness", others), others)
    return found


@pytest.mark.parametrize("at", [0, 5])
def test_the_bag_is_named_with_the_coats_as_it_is_over_all_tiles_of_the_glaze(at):
    records = bag_7()
    told = "with batch bag 7: 6 of 6 tiles came out cloudy; all others: 0 of 24"
    assert told in over_tiles(records, "dew", "cloudiness").together
    found = asked(at, records)
    assert told in found.as_dict()["together"]
    screen = " ".join(" ".join(lines(records[at], [found])).split())
    assert told in screen


def test_a_tile_that_lacks_one_of_the_two_is_told_nothing_of_them():
    records = [*bag_7(), coated(50, True, 2, "bag 1")]
    assert over_tiles(records, "dew", "cloudiness").together
    assert asked(len(records) - 1, records).as_dict()["together"] is None


def test_with_too_few_of_either_nothing_is_told():
    records = bag_7()
    assert asked(0, [records[0], *records[6:]]).as_dict()["together"] is None


@pytest.mark.parametrize(
    ("early", "body", "is_told"),
    [
        (0, "red", True),
        (20, "red", True),
        (200, "red", False),
        (40, "white", False),  # counted in, the clay and the coats tell more than the bag
    ],
)
def test_what_many_early_looks_may_gainsay_is_not_told(early, body, is_told):
    """Thick coats of bag 7 crazed by July; of more of them nobody looked after the unloading."""

    def crazed(number, coats, bag, *looks, body="red"):
        layer = {"glaze": CLEAR, "coats": coats, "batch": {"name": bag}}
        return late_tile(number, *looks, body=body, areas=[{"number": 1, "layers": [layer]}])

    bags = [("bag 7", 2, 8), ("bag 1", 3, 8), ("bag 1", 2, 8)]
    made = [(bag, coats) for bag, coats, many in bags for _ in range(many)]
    records = [crazed(n, 3, "bag 7", UNLOADED, f"{LATE}!") for n in range(6)]
    records += [crazed(10 + n, coats, bag, UNLOADED, LATE) for n, (bag, coats) in enumerate(made)]
    records += [crazed(100 + n, 3, "bag 7", UNLOADED, body=body) for n in range(early)]
    assert bool(over_tiles(records, "dew", "crazing").together) is is_told
    case = why(records[0], "crazing", records[1:])[0].case
    assert bool(pair_of(case, records[1:])) is is_told
