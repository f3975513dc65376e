"""Laws of the next tiles over random tiles and own tiles beside them."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tests.unit.diagnose.test_next_swaps import sound
from tests.unit.diagnose.test_next_tiles import OTHER, OWNED, POND, RED, WHITE, tile

DEFECTS = ("crawling", "crazing", "pinholes", "blisters", "underfired", "cloudiness")


@st.composite
def studios(draw):
    """A failed tile, and own tiles of its glaze or another, on its clay or another."""
    defect = draw(st.sampled_from(DEFECTS))
    failed = tile(defect, coats=draw(st.integers(1, 5)), cone=draw(st.sampled_from(["06", "04"])))
    own = []
    for at in range(draw(st.integers(0, 4))):
        many = draw(st.integers(1, 6))
        made = {"body": draw(st.sampled_from([RED, WHITE])),
                "glaze": draw(st.sampled_from([POND, OTHER])),
                "coats": draw(st.integers(1, 5))}  # fmt: skip
        some = sound(many, failed=draw(st.integers(0, many)), defect=defect, **made)
        own += [each.model_copy(update={"mark": f"{at}-{each.mark}"}) for each in some]
    return failed, defect, own


@settings(max_examples=40, deadline=None)
@given(studios())
def test_what_is_believed_after_each_outcome_averages_to_what_is_believed_now(studio):
    failed, defect, own = studio
    answer = why(failed, defect, own)[0]
    found = next_tiles(answer, OWNED, others=own)
    now = dict(found.causes)
    for each in found.tiles:
        again, sound_ = dict(each.if_again), dict(each.if_sound)
        for title, share in now.items():
            mixed = each.chance_again * again[title] + (1 - each.chance_again) * sound_[title]
            assert mixed == pytest.approx(share)
