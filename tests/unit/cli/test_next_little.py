"""Where no tile tells much of the cause, the screen says so first, and what to find out instead."""

from dataclasses import replace

import pytest

from tests.unit.diagnose.test_next_tiles import proposed, tile
from tiles.cli import next_text
from tiles.cli.fix_plan import Marked
from tiles.cli.next_doubt import LITTLE_PART

FOUND = proposed(tile("pinholes"))
ASK = "No single tile tells much here. To find out first:"


def screen(**values):
    found = replace(FOUND, **values)
    marked = [Marked(f"N-{at}", "pinholes", each) for at, each in enumerate(found.trials)]
    return " ".join(" ".join(next_text.screen(found, marked, is_planned=True)).split())


@pytest.mark.parametrize(
    ("part", "said"),
    [(0.3, "should clear up about 30% of the doubt."),
     (0.06, "tell little: about 6% of the doubt."), (0.003, "tell little of the cause.")],
)  # fmt: skip
def test_what_the_tiles_tell_together_is_said_in_plain_words(part, said):
    told = screen(open_bits=3.0, told_bits=3.0 * part)
    assert f"Together these tiles {said}" in told and " 0%" not in told
    assert (f"{ASK} {FOUND.would_tell[0]} Answer with 'tiles why T-1 --ask'." in told) is (
        part < LITTLE_PART
    )
    assert told.count(FOUND.would_tell[0]) == (part < LITTLE_PART)


def test_a_settled_cause_is_not_called_one_of_which_no_tile_tells():
    causes = [(title, 0.97 if at == 0 else 0.001) for at, (title, _) in enumerate(FOUND.causes)]
    assert ASK in screen(open_bits=3.0, told_bits=0.0)
    assert ASK not in screen(causes=causes, open_bits=3.0, told_bits=0.0)
