"""What counts as evidence for the learner: areas looked at, cells that can be read, all glazes."""

import numpy as np
import pandas as pd
import pytest

from diagnose import learner
from diagnose.forecasts import drivers as forecast_drivers
from diagnose.forecasts import of_tile as forecast
from diagnose.learning import keep
from diagnose.learning import report as learning_report
from diagnose.learning.model import LEARNED
from diagnose.learning.rows import from_frame
from diagnose.view import seen_from
from sample_db.read import read_records
from tests.bench.flat_frame import row_records
from tests.unit.diagnose.test_comparison import tile
from tests.unit.diagnose.test_learner import CRAWLING, assert_read_alike, read, studio
from tiles.errors import InvalidValue
from tiles.exchange import flat_columns, flat_csv

ALIKE = {"thickness_mm": 0.5, "coats": 2.0}


@pytest.mark.parametrize("word", ["n/a", "?", "not looked at", "-1"])
def test_an_outcome_that_cannot_be_read_is_blank_and_counted(word):
    blank, odd = studio(), studio()
    blank.loc[::2, CRAWLING] = np.nan
    odd.loc[::2, CRAWLING] = word
    told = read(odd)
    assert_read_alike(told, read(blank))
    assert told.passed_over == {CRAWLING: 1}


@pytest.mark.parametrize(
    ("seen", "not_seen"),
    [("Seen", "None"), ("seen", "no"), ("yes", "false"), (2, 0), (True, False), (3.0, 0.0)],
)
def test_outcomes_may_be_words_numbers_or_truth_values(seen, not_seen):
    frame = studio().replace({CRAWLING: {"moderate": "seen"}})
    other = frame.assign(**{CRAWLING: [seen if x == "seen" else not_seen
                                       for x in frame[CRAWLING]]})  # fmt: skip
    told = read(other)
    assert told.passed_over == {}
    assert_read_alike(told, read(frame))


def test_a_csv_of_tiles_read_as_text_is_understood_but_for_the_words_about_faults(tmp_path):
    tiles = read_records().tiles
    flat_csv.write_file(tmp_path / "tiles.csv", tiles)
    told = from_frame(pd.read_csv(tmp_path / "tiles.csv", dtype=str))
    assert told.passed_over == {flat_columns.FAULT_WORDS: 1}
    cones = {each.record.mark: each.record.cone_reached for each in told.rows}
    assert cones == {each.mark: each.cone_reached for each in tiles}


def test_one_bad_cell_takes_nothing_else_of_its_row():
    good = studio(30)
    for column, bad in (("recipe", ";"), ("recipe", "x" * 500 + "=4"), ("glaze_note", [1, 2])):
        frame = good.assign(**{column: pd.Series([bad] * 30, dtype=object)})
        told = read(frame)
        assert column in told.passed_over
        # That the glaze was mixed from a recipe is known of it still.
        like = good.assign(glaze_kind="recipe") if column == "recipe" else good
        assert_read_alike(told, read(like))


def test_areas_that_nobody_looked_at_change_nothing():
    mm = np.random.default_rng(2).choice([0.4, 0.8, 1.6], 40)
    frame = studio(40, area=1.0, thickness_mm=mm)  # no blanks to draw
    more = [frame.assign(**{"area": n, CRAWLING: np.nan, "defect_crazing": np.nan})
            for n in (2.0, 3.0)]  # fmt: skip
    many = pd.concat([frame, *more], ignore_index=True)
    ends = [learner.fit(each).predict_range(frame.head(5))[CRAWLING] for each in (frame, many)]
    np.testing.assert_allclose(ends[0], ends[1], atol=1e-6)


def test_the_usual_chance_is_the_rate_of_the_tiles_also_where_one_glaze_fails():
    frame = studio(100, **ALIKE)
    frame[CRAWLING] = np.where(frame.glaze == "glaze 3", "severe", "none")
    usual = learner.fit(frame).learned.defects["crawling"].usual
    assert usual == pytest.approx((frame.glaze == "glaze 3").mean(), abs=0.03)


def test_a_planned_tile_on_record_does_not_make_another_like_it_usual():
    seen = [tile(n, mm=0.6, glaze="pond", coats=2) for n in range(30)]
    new = tile(50, mm=9.0, glaze="new moss", coats=9, body="new clay")
    planned = tile(51, mm=9.0, glaze="new moss", coats=9, body="new clay", inspections=[])
    told = forecast.unlike(learner.fit_records([*seen, planned]), new, 1)
    assert told == forecast.unlike(learner.fit_records(seen), new, 1)
    assert told[:2] == [
        "new moss: no inspected tile has it",
        "new clay: no inspected tile has it",
    ]


def test_cones_are_told_as_cones_and_not_as_steps():
    body = {"name": "red clay", "cone_low": "06", "cone_high": "04"}
    seen = [tile(n, mm=0.6, body=body, cone_reached="05") for n in range(30)]
    told = forecast.unlike(
        learner.fit_records(seen), tile(50, mm=0.6, body=body, cone_reached="10"), 1
    )
    assert any("cone 10" in each for each in told)
    assert not any("yours:" in each for each in told)


def test_nothing_but_nought_met_leaves_room_for_a_little():
    seen = [tile(n, mm=0.6, firing={"name": "F", "kiln": "k", "hold_min": 0}) for n in range(30)]
    model = learner.fit_records(seen)
    for held, is_unlike in ((1, False), (40, True)):
        other = tile(60, mm=0.6, firing={"name": "G", "kiln": "k", "hold_min": held})
        assert any("held" in each for each in forecast.unlike(model, other, 1)) is is_unlike


def test_a_plain_no_is_not_unlike_tiles_of_which_only_the_exception_was_noted():
    clues = ({"bisque_dusty": "yes"}, {}, {}, {})
    model = learner.fit_records([tile(n, mm=0.6, clues=clues[n % 4]) for n in range(30)])
    assert forecast.unlike(model, tile(50, mm=0.6, clues={"bisque_dusty": "no"}), 1) == []
    greasy = tile(51, mm=0.6, clues={"bisque_greasy": "yes"})
    assert forecast.unlike(model, greasy, 1) == [], "never noted: nothing is known of it"


def test_coats_of_colour_that_were_never_counted_are_not_unlike_none():
    def over(number, coats, below):
        ink = {"glaze": {"name": "ink", "role": "underglaze"}, "coats": coats}
        layers = [*([ink] if below else []), {"glaze": "pond", "coats": 2}]
        return tile(number, areas=[{"number": 1, "layers": layers}])

    model = learner.fit_records([over(n, None, n % 2) for n in range(30)])
    assert forecast.unlike(model, over(50, 2, 1), 1) == []
    bare = learner.fit_records([over(n, None, 0) for n in range(30)])
    assert any("ink" in each for each in forecast.unlike(bare, over(50, 2, 1), 1))


def test_the_glaze_of_the_area_asked_about_is_named():
    areas = [{"number": n, "layers": [{"glaze": name}]} for n, name in ((1, "good"), (2, "bad"))]
    record = tile(1, areas=areas)
    said = forecast_drivers.said_of("this glaze", seen_from(record, 2), {})
    assert said == "how bad does on your tiles"


def test_a_single_glaze_is_judged_by_its_tiles_and_says_nothing_of_another():
    model = learner.fit(studio(60, glaze="pond"))
    assert model.verdicts == {}
    assert model.tile_verdicts["crawling"].areas == 60
    known, new = (row_records(studio(1, glaze=name, thickness_mm=1.8))[0]
                  for name in ("Pond", "moss"))  # fmt: skip
    told = {each.defect: each for each in forecast.forecast(model, known, 1)}
    assert told["crawling"].chance > told["crawling"].usual
    told = {each.defect: each for each in forecast.forecast(model, new, 1)}
    assert (told["crawling"].state, told["crawling"].chance) == (forecast.NOT_JUDGED, None)
    assert learning_report.learning_curve(model, ["crawling"]) == []


def test_chance_outcomes_of_a_single_glaze_are_seldom_told():
    told = []
    for seed in range(6):
        came = np.where(np.random.default_rng(seed).random(60) < 0.3, "slight", "none")
        model = learner.fit(studio(60, seed, glaze="pond", **{CRAWLING: came}))
        told.append(model.tile_verdicts["crawling"].beats_base_rate)
    assert sum(told) <= 2


def test_a_fault_on_some_area_of_every_tile_is_learned_from():
    areas = [studio(30, n, area=float(n), coats=float(n), thickness_mm=None,
                    **{CRAWLING: "severe" if n == 3 else "none"}) for n in (1, 2, 3)]  # fmt: skip
    model = learner.fit(pd.concat(areas, ignore_index=True))
    assert model.states["crawling"] == LEARNED
    told = model.predict_proba(studio(2, glaze="glaze 1", thickness_mm=None, coats=[1.0, 3.0]))
    assert told[CRAWLING][1] > 1.5 * told[CRAWLING][0]


def test_tiles_of_one_day_have_no_newest_ones():
    assert learner.fit(studio(60, fired_on="2024-01-01")).validate("forward") == {}
    with pytest.raises(InvalidValue, match="there is no split 'tile'"):
        learner.fit(studio(30)).validate("tile")


def test_lessons_spell_a_glaze_as_on_record():
    frame = studio(100, **ALIKE)
    frame["glaze"] = frame.glaze.str.replace("glaze", "Grün ß")
    frame[CRAWLING] = np.where(frame.glaze == "Grün ß 3", "severe", "none")
    told = learning_report.lessons(learner.fit(frame), "crawling")
    assert any(each.said.startswith("Grün ß 3: more often") for each in told)


def test_forward_in_time_only_tiles_that_were_looked_at_count():
    frame = studio(100)
    frame["fired_on"] = [str(day.date()) for day in pd.date_range("2024-01-01", periods=100)]
    frame.loc[70:, [CRAWLING, "defect_crazing"]] = np.nan
    assert learner.fit(frame).validate("forward")["crawling"].areas == 21


def test_the_drivers_cone_and_label_are_the_forecast_without_them():
    rng = np.random.default_rng(4)
    cones = rng.choice(["06", "05", "04", "03"], 80)
    ran = rng.random(80) < np.where(cones == "03", 0.8, 0.1)
    frame = studio(80, glaze_cone_low="06", glaze_cone_high="04", cone_reached=cones,
                   body_cone_low="06", body_cone_high="02", bisque_cone="04",
                   defect_running=np.where(ran, "severe", "none"))  # fmt: skip
    model = learner.fit(frame)
    row = frame[frame.cone_reached == "03"].head(1)
    told = model.contributions(row, "running").set_index("fact").effect
    gone = {"cone reached": ["cone_reached"], "label": ["glaze_cone_low", "glaze_cone_high"]}
    fresh = learner.Model(model.learned)  # without what the training rows told of the glaze
    logit = lambda r: fresh.learned.log_odds("running", fresh._see(r))[0][0]  # noqa: E731
    for fact, columns in gone.items():
        assert told[fact] == pytest.approx(logit(row) - logit(row.drop(columns=columns)), abs=1e-6)
    assert told["cone reached"] > 1.0


def test_recipe_figures_for_unknown_glazes_do_not_hang_on_the_order_of_rows():
    recipes = ["frit=60; silica=20; kaolin=20", "soda feldspar=40; silica=30; kaolin=30",
               "soda feldspar=60; whiting=20; kaolin=20", None]  # fmt: skip
    frame = studio(60, glaze=[f"glaze {n % 4}" for n in range(60)], recipe=recipes * 15)
    frame["cone_reached"] = [None] * 12 + ["04"] * 48
    frame["defect_running"] = ["slight", "none", "none"] * 20
    told = [learner.fit(each).predict_proba(frame.head(8))
            for each in (frame, frame.iloc[::-1].reset_index(drop=True))]  # fmt: skip
    pd.testing.assert_frame_equal(*told, atol=1e-3, rtol=0)


def test_a_kept_model_is_dropped_when_the_program_changes(tmp_path, monkeypatch):
    records = row_records(studio(25))
    before = keep.fingerprint(records)
    assert keep.fingerprint(records[::-1]) == before
    changed = tmp_path / "curves.csv"
    changed.write_text("measure\n")
    files = keep._files_that_learn()
    assert {"design.py", "crawling.toml", "crawling.csv", "vocabulary.toml", "cones.py"} <= {
        each.name for each in files
    }
    monkeypatch.setattr(keep, "_files_that_learn", lambda: [*files, changed])
    with_one_more = keep.fingerprint(records)
    assert with_one_more != before
    changed.write_text("measure,only\n")
    assert keep.fingerprint(records) != with_one_more


def test_a_row_is_forecast_alike_alone_and_beside_rows_that_note_what_it_does_not():
    frame = studio(60, clue_bisque_dusty=None, clue_glaze_lumpy=None)
    frame.loc[[3, 9, 15, 21], "clue_bisque_dusty"] = "yes"
    frame.loc[[4, 5], "clue_glaze_lumpy"] = "yes"
    model = learner.fit(frame)
    together = model.predict_proba(frame)
    for at in (0, 3, 4, 7):
        alone = model.predict_proba(frame.iloc[[at]])
        pd.testing.assert_frame_equal(alone, together.iloc[[at]], rtol=1e-9)
