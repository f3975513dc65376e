"""Own tiles known to be glazed otherwise are in no count beside a forecast."""

import pytest

from diagnose.forecasts.of_tile import Forecast
from diagnose.forecasts.own_count import own_count
from diagnose.own_tiles.known_apart import apart, handled, is_of_another_colour
from diagnose.own_tiles.made_alike import made_alike
from diagnose.own_tiles.pair import own_pair
from diagnose.view import View, seen_from
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.forecast_counts import counts
from tiles.cli.forecast_text import _told


def _pond(number, *, coats=3, layers=("ink", "pond"), **values):
    made = [{"glaze": name, "coats": coats} for name in layers]
    return tile(number, areas=[{"number": 1, "layers": made}], **values)


DUSTY = {"clues": {"bisque_dusty": "yes"}}
RECORDS = [
    *(_pond(n, defects=["crawling"], **DUSTY) for n in range(5)),
    *(_pond(10 + n, clues={"bisque_dusty": "no"}) for n in range(4)),
    _pond(20, clues={"bisque_wiped": "yes"}),
    _pond(21),
]
LEFT_OUT = "those where the bisque was dusty or had stood uncovered are left out"


@pytest.mark.parametrize(
    ("clues", "seen", "areas", "said"),
    [
        ({"bisque_dusty": "no"}, 0, 6, LEFT_OUT),
        ({"bisque_wiped": "yes"}, 0, 6, LEFT_OUT),
        (DUSTY["clues"], 5, 6, "those where the bisque was not dusty are left out"),
        ({}, 5, 11, ""),
        ({"glaze_stirred": "no"}, 5, 11, ""),
    ],
)
def test_what_failed_on_dusty_bisque_is_not_counted_for_a_tile_on_clean_bisque(
    clues, seen, areas, said
):
    asked = _pond(99, clues=clues)
    view = View(asked, asked.areas[0])
    told = made_alike(RECORDS, view).counts("crawling")
    for name in ("alike", "closest", "layers"):
        assert (told[f"{name}_seen"], told[f"{name}_areas"]) == (seen, areas)
    assert told["clues_apart"] == said
    pair = own_pair(RECORDS, view).count("crawling")
    assert (pair.seen, pair.tiles) == (seen, areas)
    fit = made_alike(RECORDS, view).counts("crazing")
    assert (fit["alike_areas"], fit["clues_apart"]) == (11, ""), "no dust crazes a glaze"


@pytest.mark.parametrize(
    ("own", "failed", "is_another"),
    [("leaf", ["coral"], True), ("coral", ["coral"], False), ("sand", ["coral"], False),
     ("leaf", ["coral", "moss"], False), ("leaf", [], False)],
)  # fmt: skip
def test_only_what_failed_over_one_colour_alone_says_nothing_of_another_that_was_met(
    own, failed, is_another
):
    found = [((name,), name in failed) for name in ("coral", "leaf", "moss")]
    assert is_of_another_colour((own,), found) is is_another


@pytest.mark.parametrize("clue", ["bisque_dusty", "bisque_wiped"])
def test_how_clean_tiles_did_is_counted_for_a_clean_one(clue):
    asked = _pond(99, clues={clue: "no" if clue == "bisque_dusty" else "yes"})
    found, _ = own_count(RECORDS, seen_from(asked, 1, "crawling"))
    assert found.measure == "bisque_dusty"
    assert "like this one, where the bisque was not dusty, none did" in found.say


def test_a_wiped_bisque_is_not_dusty_unless_that_is_recorded_too():
    assert handled(View(_pond(1, clues={"bisque_wiped": "yes"}))) == {
        "bisque_wiped": "yes", "bisque_dusty": "no",
    }  # fmt: skip
    both = {"bisque_wiped": "yes", "bisque_dusty": "yes"}
    assert handled(View(_pond(1, clues=both))) == both
    assert apart({"bisque_dusty": "no"}, both) == ["bisque_dusty"]


def test_who_says_how_a_tile_was_glazed_is_told_what_that_did_though_little_is_feared():
    head = ("crawling", "learned", 20, 5, "as usual", 0.2, 0.1, 0.6, 0.1)
    sound = {"own_count": "of 5 like this one none did.", "alike_areas": 5, "alike_tiles": 5}
    said = {by: "\n".join(_told([Forecast(*head, **sound, own_count_by=by)], 20, show_all=False))
            for by in ("bisque_dusty", "shelf")}  # fmt: skip
    assert "crawling: of 5 like this one none did." in said["bisque_dusty"]
    assert "like this one" not in said["shelf"], "nobody asked"
    assert counts(Forecast(*head, **sound, clues_apart=LEFT_OUT)).endswith(f"; {LEFT_OUT}")
