"""The learner on small frames: what it learns, what it cannot, and what it lives through."""

import numpy as np
import pandas as pd
import pytest

from diagnose import learner
from diagnose.learning import beliefs, rows
from diagnose.learning import report as learning_report
from diagnose.learning.model import FEW_SEEN, FEW_TILES, LEARNED, NEVER_INSPECTED
from tests.bench.flat_frame import records_from_frame
from tiles.exchange.flat_columns import defect_column
from tiles.records.words import DEFECTS

CRAWLING = "defect_crawling"


def studio(n=60, seed=0, **columns):
    """Tiles that crawl where the coat is thick; the other facts are blank or by chance."""
    rng = np.random.default_rng(seed)
    mm = rng.choice([0.3, 0.5, 0.8, 1.2, 1.6, 2.0], n)
    crawled = rng.random(n) < np.where(mm > 1.0, 0.7, 0.05)
    frame = pd.DataFrame(
        {
            "mark": [f"T-{i}" for i in range(n)],
            "body": "red clay",
            "glaze": [f"glaze {i % 8}" for i in range(n)],
            "coats": rng.choice([1.0, 2.0, 3.0], n),
            "thickness_mm": np.where(rng.random(n) < 0.3, np.nan, mm),
            "fired_on": [f"2024-01-{i % 28 + 1:02d}" for i in range(n)],
            CRAWLING: np.where(crawled, "moderate", "none"),
            "defect_crazing": "none",
        }
    )
    return frame.assign(**columns)


def test_a_fact_told_once_of_a_glaze_holds_for_all_its_rows_also_those_to_be_forecast():
    told = studio(glaze_finish="gloss", glaze_cone_low="06", glaze_cone_high="04")
    sparse = told.copy()
    again = sparse.glaze.duplicated()
    sparse.loc[again, ["glaze_finish", "glaze_cone_low", "glaze_cone_high"]] = None
    new = told.head(10).drop(columns=["glaze_finish", "glaze_cone_low", "glaze_cone_high"])
    expected = learner.fit(told).predict_proba(told.head(10))
    pd.testing.assert_frame_equal(learner.fit(sparse).predict_proba(new), expected)


@pytest.fixture(scope="module")
def model():
    return learner.fit(studio())


def read(frame):
    """What is learned from: rows, what was seen of each, and what could not be read."""
    return rows.join_looks(rows.from_frame(frame), frame)


def assert_read_alike(one, other):
    assert one.rows == other.rows
    np.testing.assert_equal(one.outcomes, other.outcomes)
    np.testing.assert_equal(one.worse, other.worse)


def test_there_is_one_chance_for_each_defect_and_the_index_is_kept(model):
    frame = studio(5, 1).set_index(pd.Index([7, 3, "x", 0, 9]))
    told = model.predict_proba(frame)
    assert list(told.columns) == [defect_column(each) for each in DEFECTS]
    assert list(told.index) == [7, 3, "x", 0, 9]
    assert ((told > 0) & (told < 1)).all(axis=None)


def test_a_thick_coat_is_forecast_to_crawl_more_than_a_thin_one(model):
    two = studio(2, 2, thickness_mm=[0.4, 1.8], coats=2.0, glaze="glaze 1")
    thin, thick = model.predict_proba(two)[CRAWLING]
    assert thick > 2 * thin


def chance(defect, **facts):
    """Forecasts of two tiles that differ in one fact, by a model that has not seen it matter."""
    seen = studio(**{name: pair[0] for name, pair in facts.items()})
    half = seen.index % 2 == 0
    for name, pair in facts.items():
        seen.loc[half, name] = pair[1]
    seen[f"defect_{defect}"] = np.where(seen.index % 10 < 2, "slight", "none")
    new = seen.head(2).assign(glaze="new one", coats=2.0, thickness_mm=0.6)
    return learner.fit(seen).predict_proba(new)[f"defect_{defect}"].tolist()


@pytest.mark.parametrize(
    "defect, facts",
    [
        ("running", {"stood": ("flat", "upright")}),
        ("crazing", {"glaze_finish": ("gloss", "crackle")}),
        ("underfired", {"glaze_cone_low": ("08", "04"), "glaze_cone_high": ("06", "02"),
                        "cone_reached": ("06", "04")}),
    ],
)  # fmt: skip
def test_what_makes_a_fault_likelier_whatever_its_cause_counts_before_it_was_seen(defect, facts):
    second, first = chance(defect, **facts)
    assert second > 1.2 * first


def test_own_tiles_move_the_forecast_away_from_common_practice():
    frame = studio()
    never = frame.assign(**{CRAWLING: "none"})
    always = frame.assign(**{CRAWLING: np.where(np.arange(60) % 2 == 0, "severe", "none")})
    low, high = (
        learner.fit(each).predict_proba(frame)[CRAWLING].mean() for each in (never, always)
    )
    assert low < 0.07
    assert high > 0.35


def test_what_the_frame_says_of_outcomes_is_not_looked_at_in_a_forecast(model):
    frame = studio(20, 3)
    hidden = frame.drop(columns=[CRAWLING, "defect_crazing"])
    pd.testing.assert_frame_equal(model.predict_proba(frame), model.predict_proba(hidden))


def test_a_row_is_forecast_alike_whatever_stands_beside_it(model):
    frame = studio(20, 4)
    alone = pd.concat([model.predict_proba(frame.iloc[[i]]) for i in range(0, 20, 2)])
    together = model.predict_proba(frame.iloc[::-1]).loc[alone.index]
    pd.testing.assert_frame_equal(alone, together)


def test_the_order_of_the_tiles_does_not_matter(model):
    frame = studio()
    shuffled = learner.fit(frame.sample(frac=1, random_state=1))
    told = (each.predict_proba(frame) for each in (model, shuffled))
    pd.testing.assert_frame_equal(*told, atol=1e-3, rtol=0)


def test_it_says_where_there_is_too_little_to_learn_from(model):
    assert model.states["crawling"] == LEARNED
    assert model.states["crazing"] == FEW_SEEN
    assert model.states["blisters"] == NEVER_INSPECTED
    assert learner.fit(studio(12)).states["crawling"] == FEW_TILES


def test_areas_of_one_tile_count_less_than_tiles_of_their_own():
    frame = studio(40, 5)
    apart = pd.concat([frame.assign(mark=frame.mark + end) for end in ("a", "b", "c")])
    together = pd.concat([frame.assign(area=float(n)) for n in (1, 2, 3)])
    row = studio(1, 6, thickness_mm=1.8)
    spread = []
    for each in (apart, together):
        fitted = learner.fit(each.reset_index(drop=True))
        spread.append(fitted.learned.log_odds("crawling", fitted._see(row))[1][0])
    assert spread[1] > spread[0]


@pytest.mark.parametrize("repeated", [[], ["body", "glaze", "coats", "thickness_mm", "fired_on"]])
def test_a_later_look_is_no_further_area(repeated):
    first = studio(40, 7, area=1.0, inspected_on="2024-03-01")
    crazed = np.where(np.arange(40) % 3, "none", "slight")
    later = first[["mark", "area", *repeated]].assign(
        inspected_on="2024-06-01", defect_crazing=crazed
    )
    as_it_came_out = first.assign(inspected_on="2024-06-01", defect_crazing=crazed)
    looks = pd.concat([first, later]).reset_index(drop=True)
    assert_read_alike(read(looks), read(as_it_came_out))
    on_one_day = looks.assign(inspected_on="2024-06-01")  # rows that repeat an area are no looks
    assert len(read(on_one_day).rows) == 80


@pytest.mark.parametrize("known", [{"area": 1.0, "inspected_on": "2024-03-01"}, {}])
def test_a_sheet_pasted_twice_counts_once(known):
    sheet = studio(40, 7, **known)
    later = sheet.head(20).assign(inspected_on="2024-06-01", defect_crazing="slight")
    sheet = pd.concat([sheet, later] if known else [sheet])
    twice = pd.concat([sheet, sheet]).reset_index(drop=True)
    once = read(sheet.reset_index(drop=True))
    assert_read_alike(once, read(twice))
    other = read(pd.concat([sheet, sheet.assign(mark=None)]).reset_index(drop=True))
    assert len(other.rows) > len(once.rows), "what has no mark stands for itself"


def test_rows_without_a_mark_are_all_counted():
    frame = pd.DataFrame({"mark": ["A-1", None, None, " ", " "], CRAWLING: "none"})
    unmarked = frame.drop(columns="mark")
    told = [len(rows.join_looks(rows.from_frame(each), each).rows) for each in (frame, unmarked)]
    assert told == [5, 5]


def test_the_range_holds_the_chance(model):
    frame = studio(20, 7)
    chance, ends = model.predict_proba(frame), model.predict_range(frame)
    for column in chance:
        assert (ends[column, "low"] <= chance[column]).all()
        assert (chance[column] <= ends[column, "high"]).all()


def test_a_glaze_never_met_has_the_wider_range(model):
    both = studio(2, 8, glaze=["glaze 1", "unheard of"], thickness_mm=0.5, coats=2.0)
    ends = model.predict_range(both)[CRAWLING]
    width = np.log(ends["high"] / (1 - ends["high"])) - np.log(ends["low"] / (1 - ends["low"]))
    assert width.iloc[1] > width.iloc[0]


def test_a_tile_unlike_anything_seen_is_called_so(model):
    frame = studio(3, 9, thickness_mm=[0.5, 9.0, np.nan], method=["", "", "spray"])
    assert list(model.unlike(frame)) == [False, True, False]


def test_a_glaze_and_a_body_never_met_are_unlike_anything_seen(model):
    named = studio(4, 9, thickness_mm=0.5, coats=2.0, glaze=["glaze 1", "new", "glaze 1", ""])
    named.loc[2, "body"] = "new"
    assert list(model.unlike(named)) == [False, True, True, False]


def test_the_coat_drives_the_forecast_of_a_thick_one(model):
    told = model.contributions(studio(1, 10, thickness_mm=1.9, glaze="new"), "crawling")
    assert told.iloc[0]["fact"] == "coat"
    assert told.iloc[0]["effect"] > 0.3


def test_every_recorded_fact_has_its_effect_once():
    more = {
        "bisque_cone": ["04", "06"] * 30,
        "cone_reached": ["05", "05½", "06"] * 20,
        "target_cone": "05",
        "glaze_cone_low": "06",
        "glaze_cone_high": "04",
        "body_cone_low": "06",
        "recipe": ["soda feldspar=40; silica=30; kaolin=30", "silica=50; kaolin=50", None] * 20,
        "clue_bisque_dusty": ["yes", "no"] * 30,
        "kiln": "old one",
    }
    frame = studio(60, 13, **more)
    facts = learner.fit(frame).contributions(frame.iloc[[0]], "crawling")["fact"]
    assert facts.is_unique
    assert {"coat", "cone reached", "bisque", "recipe", "bisque_dusty"} <= set(facts)
    assert {"this glaze", "this body", "this kiln"} <= set(facts)


@pytest.mark.parametrize(
    "frame",
    [
        pd.DataFrame({CRAWLING: ["none", "slight"] * 15}),
        pd.DataFrame({"mark": ["A"], "body": ["b"], CRAWLING: ["slight"]}),
        studio(30).drop(columns=["mark", "glaze", "fired_on", "body"]),
        studio(30).assign(**dict.fromkeys(["coats", "thickness_mm", "glaze"], np.nan)),
        studio(30).assign(**{CRAWLING: "severe"}),
        studio(30).assign(thickness_mm=0.5, coats=2.0),
        studio(30).iloc[:0],
        studio(30).assign(glaze_finish="shiny as glass", cone_reached="99", studio_name="x"),
        studio(30).assign(glaze_cone_low="04", glaze_cone_high="06"),
    ],
    ids=[
        "nothing but the outcome", "one tile", "no mark, glaze or day", "blank columns",
        "one class only", "nothing varies", "no rows", "unknown words and columns",
        "a range that runs backwards",
    ],
)  # fmt: skip
def test_a_poor_frame_still_gives_chances(frame):
    model = learner.fit(frame)
    assert model.predict_proba(studio(4, 11)).notna().all(axis=None)
    assert model.validate().keys() <= set(DEFECTS)


@pytest.mark.parametrize(
    "kept_as",
    [
        pd.DataFrame.convert_dtypes,  # blanks are pandas' NA
        lambda frame: frame.astype(object).where(frame.notna(), None),
        lambda frame: frame.astype(object).where(frame.notna(), ""),
        lambda frame: frame.astype(str).where(frame.notna()).astype("category"),
    ],
    ids=["nullable", "None", "empty text", "category"],
)
def test_a_blank_is_a_blank_however_the_frame_keeps_it(kept_as):
    frame = studio()
    frame.loc[::7, CRAWLING] = np.nan
    assert_read_alike(read(kept_as(frame)), read(frame))


def test_what_could_not_be_read_is_counted():
    frame = studio(30).assign(glaze_finish="shiny as glass", studio_name="x")
    assert learner.fit(frame).passed_over == {"glaze_finish": 1, "studio_name": 1}


def test_records_give_the_forecast_that_their_frame_gives():
    clean = {defect_column(each): "none" for each in DEFECTS if each != "crawling"}
    frame = studio(inspected_on="2024-03-01", area=1.0, **clean)
    records = records_from_frame(frame)
    from_records = learner.fit_records(records).forecast(records[0])
    from_frame = learner.fit(frame).predict_proba(frame.iloc[[0]])
    for each in from_records:  # the frame knows the day of the look besides
        assert each.chance == pytest.approx(from_frame[defect_column(each.defect)][0], abs=0.01)


def test_a_verdict_says_whether_held_back_tiles_were_forecast_better_than_guessing():
    model = learner.fit(studio(150))
    verdict = model.verdicts["crawling"]
    assert verdict.beats_base_rate
    assert verdict.areas == 150
    assert not model.verdicts["crazing"].beats_base_rate
    assert model.validate("forward")["crawling"].areas == 45


def test_outcomes_by_chance_are_not_said_to_be_forecast():
    rng = np.random.default_rng(5)
    told = [
        learner.fit(
            studio(60, seed, **{CRAWLING: np.where(rng.random(60) < 0.3, "slight", "none")})
        ).verdicts["crawling"]
        for seed in range(6)
    ]
    gains = [v.log_loss["base rate"] - v.log_loss["model"] for v in told]
    assert np.mean(gains) < 0.005


@pytest.mark.parametrize("seed", range(3))
def test_the_day_of_its_own_look_tells_nothing_of_a_tile_that_is_held_back(seed):
    # Crazing by chance; who saw it wrote it down months later, and the sound were not looked at.
    crazed = np.random.default_rng(seed).random(90) < 0.25
    looked = np.where(crazed, "2024-06-15", "2024-01-30")
    seen = {"inspected_on": looked, "defect_crazing": np.where(crazed, "moderate", "none")}
    model = learner.fit(studio(90, seed, **seen))
    assert model.states["crazing"] == LEARNED
    for verdict in (model.verdicts, model.tile_verdicts, model.validate("forward")):
        assert verdict["crazing"].gain < 0.05  # 0.25 to 0.38 where they know that day


def test_guessing_knows_the_usual_rate_where_one_glaze_has_all_the_faults():
    names = [f"glaze {n % 5}" for n in range(100)]
    faults = ["severe" if name == "glaze 0" else "none" for name in names]
    bare = pd.DataFrame({"mark": [f"T-{n}" for n in range(100)], "body": "red", "glaze": names})
    model = learner.fit(bare.assign(**{CRAWLING: faults}))
    whole = model.verdicts["crawling"]
    assert 0.45 < whole.log_loss["base rate"] < 0.6  # a fifth at one in ten; the others' rate: 0.9
    assert whole.log_loss["glaze rate"] > 0.8
    assert not whole.beats_base_rate
    assert model.tile_verdicts["crawling"].beats_base_rate


@pytest.mark.parametrize("move, told", [(-0.3, "more"), (0.3, "less")])
def test_a_lesson_about_a_measure_says_whether_it_counts_for_more_than_believed(move, told):
    said = learning_report._said(beliefs.MELT, move, "running", {})
    assert said == f"how stiff the melt is at that cone counts for {told} than usual"


@pytest.mark.parametrize("move", [-0.3, 0.3])
def test_a_measure_of_which_nothing_was_believed_comes_to_count_for_more(move):
    assert beliefs.prior(beliefs.LABEL, "pinholes")[0] == 0.0
    assert "counts for more than usual" in learning_report._said(
        beliefs.LABEL, move, "pinholes", {}
    )


def test_own_tiles_speak_for_the_cause_they_show(model):
    record = records_from_frame(studio(1, 12, thickness_mm=1.9))[0]
    bonus = model.cause_bonus(record, "crawling")
    assert max(bonus, key=bonus.get) == "coat_too_thick"
    assert model.cause_bonus(record, "blisters") == {}
