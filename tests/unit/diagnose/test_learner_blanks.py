"""What the learner takes a blank for."""

import numpy as np
import pytest

from diagnose import learner
from diagnose.learning import rows
from diagnose.learning.model import Seen
from tests.unit.diagnose.test_learner import CRAWLING, studio


def dusty_studio(otherwise):
    """Every fifth tile of a thin coat is dusty, and of these alone most crawled."""
    frame = studio(60, thickness_mm=0.5, coats=2.0)
    is_dusty = np.arange(60) % 5 == 0
    frame["clue_bisque_dusty"] = np.where(is_dusty, "yes", otherwise)
    frame[CRAWLING] = np.where(is_dusty & (np.arange(60) % 15 != 0), "moderate", "none")
    return frame.replace({"clue_bisque_dusty": {"": None}})


@pytest.mark.parametrize("otherwise", ["", "no"])
def test_a_clue_that_is_written_down_only_where_it_is_so_is_learned_from(otherwise):
    frame = dusty_studio(otherwise)
    told = learner.fit(frame).predict_proba(frame)[CRAWLING]
    is_dusty = frame.clue_bisque_dusty == "yes"
    assert told[is_dusty].min() > 2 * told[~is_dusty].max()


def draws(frame, measure):
    return Seen(rows.from_frame(frame).rows).drawn.words[measure]


def test_what_is_recorded_of_one_jar_is_not_taken_for_that_of_the_others():
    frame = studio(24)
    is_revived = frame.glaze == "glaze 1"
    frame["glaze_kind"] = "jar"
    frame["batch"] = np.where(is_revived, "let down in May", None)
    frame["batch_is_revived"] = np.where(is_revived, "yes", None)
    revived = draws(frame, "revived")
    assert set(revived[:, is_revived].ravel()) == {"yes"}
    assert set(revived[:, ~is_revived].ravel()) == {None}
    frame.loc[frame.glaze == "glaze 2", ["batch", "batch_is_revived"]] = ["new", "no"]
    others = draws(frame, "revived")[:, ~frame.glaze.isin(["glaze 1", "glaze 2"])]
    assert set(others.ravel()) == {"yes", "no"}


def test_nothing_beneath_a_glaze_is_no_blank():
    frame = studio(24)
    frame["under_glaze"] = [("ink", "white slip", None)[at % 3] for at in range(24)]
    frame["under_glaze_role"] = [("underglaze", "slip", None)[at % 3] for at in range(24)]
    beneath = draws(frame, "colour_beneath")
    assert set(beneath[:, frame.under_glaze.isna()].ravel()) == {None}
    assert {"underglaze", "slip"} <= set(beneath.ravel())
