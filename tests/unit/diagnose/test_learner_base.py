"""Colours of one base: a new one is a new glaze, but not a wholly unknown one."""

import numpy as np
import pandas as pd
import pytest

from diagnose import learner
from diagnose.forecasts.drivers import said_of
from diagnose.learning import report as learning_report
from diagnose.learning import table
from diagnose.learning.rows import from_frame
from diagnose.view import seen_from
from tests.bench.flat_frame import row_records

CRAWLING = "defect_crawling"
FAILS = "soda feldspar=40; calcium borate frit=30; kaolin=12; silica=18"
SOUND = "nepheline syenite=45; calcium borate frit=25; kaolin=15; silica=15"
COLOURS = ("copper carbonate=2", "cobalt carbonate=1", "red iron oxide=4", "tin oxide=6")


def glazes(base, name, crawled, each=8):
    """``each`` tiles of four colours of a base, ``crawled`` of which crawled."""
    return [
        {"mark": f"{name}-{colour}-{number}", "body": "red clay", "glaze": f"{name} {colour}",
         "glaze_kind": "recipe", "recipe": f"{base}; +{colour}", "coats": 2.0,
         "inspected_on": "2026-03-02", CRAWLING: "seen" if number < crawled else "none"}
        for colour in COLOURS for number in range(each)
    ]  # fmt: skip


@pytest.fixture(scope="module")
def two_bases():
    return pd.DataFrame(glazes(FAILS, "moss", 5) + glazes(SOUND, "fern", 0))


@pytest.fixture(scope="module")
def model(two_bases):
    return learner.fit(two_bases)


def new_colour(base, like):
    return like.head(1).assign(mark="N", glaze=f"new {base[:4]}", recipe=f"{base}; +rutile=5")


def test_a_new_colour_of_a_base_that_crawled_is_feared(model, two_bases):
    fails, sound = (
        model.predict_proba(new_colour(base, two_bases))[CRAWLING].item() for base in (FAILS, SOUND)
    )
    assert fails > 2 * sound
    effect = {c: v for c, v in model.learned.defects["crawling"].coefficients().items()
              if c.startswith("base:")}  # fmt: skip
    assert len(effect) == 2
    assert effect["base:40 soda feldspar, 30 calcium borate frit, 18 silica, 12 kaolin"] > 0.5


def test_it_is_told_as_a_lesson_and_as_what_drives_the_forecast(model, two_bases):
    said = [each.said for each in learning_report.lessons(model, "crawling", 8)]
    assert (
        "glazes of 40 soda feldspar, 30 calcium borate frit, 18 silica, 12 kaolin: more often than "
        "common practice expects"
    ) in said
    (record,) = row_records(new_colour(FAILS, two_bases))
    effect = {each.fact: each.effect for each in model.drivers(record, "crawling")}
    assert effect["this base"] > 0.3
    told = said_of("this base", seen_from(record, 1), {})
    assert told == "how the base of new soda does on your tiles"


def test_a_base_of_one_glaze_has_no_effect_of_its_own(two_bases):
    one_each = two_bases.assign(recipe=[f"{FAILS}; bone ash={4 * (n % 8 + 1)}" for n in range(64)])
    one_each["glaze"] = one_each["recipe"]
    columns = learner.fit(one_each).learned.defects["crawling"].layout.columns
    assert not [each for each in columns if each.startswith("base:")]


@pytest.mark.parametrize(
    ("recipe", "base"),
    [
        (f"{FAILS}; +rutile=5", "40 soda feldspar, 30 calcium borate frit, 18 silica, 12 kaolin"),
        ("silica=36; kaolin=24; soda feldspar=80; calcium borate frit=60",
         "40 soda feldspar, 30 calcium borate frit, 18 silica, 12 kaolin"),
        (None, ""),
    ],
)  # fmt: skip
def test_the_base_is_the_recipe_but_for_its_additions_in_hundredths(two_bases, recipe, base):
    frame = two_bases.head(1).assign(recipe=recipe)
    assert table.read(from_frame(frame).rows).groups["base"].tolist() == [base]


def test_glazes_held_back_are_forecast_by_their_base(model, two_bases):
    """The base of each glaze is known from the three others of it."""
    verdict = model.verdicts["crawling"]
    assert verdict.beats_base_rate
    alone = two_bases.assign(recipe=np.nan)
    assert verdict.log_loss["model"] < learner.fit(alone).verdicts["crawling"].log_loss["model"]
