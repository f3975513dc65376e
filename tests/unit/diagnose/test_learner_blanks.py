"""What the learner takes a blank for."""

import numpy as np
import pytest

from diagnose import learner
from diagnose.learning import rows
from diagnose.learning.seen import Seen
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


@pytest.mark.parametrize("noted", [1, 3])
def test_a_few_words_that_it_was_not_so_do_not_undo_what_was_learned(noted):
    """They once made every blank a dusty tile: 54 % became 21 %."""
    frame = dusty_studio("")
    frame.loc[frame.index[frame.clue_bisque_dusty.isna()][:noted], "clue_bisque_dusty"] = "no"
    told = learner.fit(frame).predict_proba(frame)[CRAWLING]
    is_dusty = frame.clue_bisque_dusty == "yes"
    assert told[is_dusty].mean() > 0.4 > 2 * told[~is_dusty].mean()


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
    assert set(others.ravel()) == {"yes", "no", None}


def test_nothing_beneath_a_glaze_is_no_blank():
    frame = studio(24)
    frame["under_glaze"] = [("ink", "white slip", None)[at % 3] for at in range(24)]
    frame["under_glaze_role"] = [("underglaze", "slip", None)[at % 3] for at in range(24)]
    beneath = draws(frame, "colour_beneath")
    assert set(beneath[:, frame.under_glaze.isna()].ravel()) == {None}
    assert {"underglaze", "slip"} <= set(beneath.ravel())


def test_one_clue_that_decides_is_not_held_back_and_the_others_are_left_alone():
    frame = dusty_studio("")
    other = np.random.default_rng(3).random(60) < 0.3
    frame["clue_bisque_greasy"] = np.where(other, "yes", "no")
    model = learner.fit(frame)
    told, is_dusty = model.predict_proba(frame)[CRAWLING], frame.clue_bisque_dusty == "yes"
    assert told[is_dusty].mean() > 0.4  # 8 of 12 did; all beliefs alike held it at 0.31
    b = model.learned.defects["crawling"].coefficients()
    dust, grease = (b[f"clue:{name}|yes|None|None||"] for name in ("bisque_dusty", "bisque_greasy"))
    assert dust > 1.5
    assert abs(grease) < 0.3


def test_how_the_dry_coat_looked_takes_nothing_from_the_coat_that_made_it_so():
    frame = studio(60)
    cracked = (frame[CRAWLING] == "moderate") & (np.arange(60) % 2 == 0)
    frame["clue_raw_coat_cracked"] = np.where(cracked, "yes", None)
    assert cracked.sum() > 3
    assert set(draws(frame, "raw_coat_cracked")[:, ~cracked].ravel()) == {"yes"}
