"""The bench itself: that studios are as they say, and that scores mean what they say."""

import ast
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from tests.bench import baselines, deciding, hazards, run, score, seeing, simulate, splits
from tests.bench.flat_frame import records_from_frame
from tests.bench.second import seeing as second_seeing
from tests.bench.second import simulate as second
from tests.bench.studio import make as make_studio
from tests.bench.tiles import make as make_tiles
from tiles.exchange.flat_columns import columns, defect_column

FOLDER = Path(__file__).parent

# Share of areas with each defect, mean over studios: what a class sees (estimates, no source).
USUAL_RATES = {
    "crazing": (0.10, 0.25), "shivering": (0.005, 0.05), "crawling": (0.05, 0.18),
    "pinholes": (0.10, 0.24), "blisters": (0.03, 0.12), "running": (0.03, 0.10),
    "underfired": (0.05, 0.15), "unwanted matt": (0.04, 0.12), "specks": (0.05, 0.15),
    "cloudiness": (0.05, 0.15),
}  # fmt: skip


@pytest.fixture(scope="module")
def studios():
    return [simulate.simulate(120, seed) for seed in range(12)]


@pytest.fixture(scope="module")
def second_studios():
    return [second.simulate(60, seed) for seed in range(8)]


@pytest.mark.parametrize("bench", run.BENCHES)
def test_a_seed_gives_the_same_studio_and_another_seed_another(bench):
    first, again, other = (run.BENCHES[bench](40, seed) for seed in (5, 5, 6))
    pd.testing.assert_frame_equal(first.frame, again.frame)
    pd.testing.assert_frame_equal(first.truth, again.truth)
    assert not first.frame.equals(other.frame)


def test_the_frame_has_exactly_the_flat_columns_and_makes_valid_records(studios):
    for studio in studios[:4]:
        assert list(studio.frame) == [each.name for each in columns()]
        records = records_from_frame(studio.frame)
        assert len(records) == 120 == studio.frame["mark"].nunique()
        assert sum(len(record.areas) for record in records) == len(studio.frame)


@pytest.mark.parametrize("bench", ["second", "third", "company"])
def test_frames_of_the_other_benches_read_as_flat_records(bench):
    for studio in (run.BENCHES[bench](60, seed) for seed in range(4)):
        assert list(studio.frame) == [each.name for each in columns()]
        records = records_from_frame(studio.frame)
        assert len(records) == 60 == studio.frame["mark"].nunique()
        assert sum(len(record.areas) for record in records) == len(studio.frame)


def test_every_chance_of_the_second_studio_lies_between_0_and_1(second_studios):
    for studio in second_studios:
        assert len(studio.truth) == len(studio.frame)
        for defect in studio.defects:
            for kind in ("chance", "noted"):
                chance = studio.truth[f"{kind}:{defect_column(defect)}"]
                assert chance.between(0, 1, inclusive="neither").all(), (kind, defect)
                assert chance.nunique() > 1, (kind, defect)


def test_what_could_tell_a_cause_of_the_second_studio_is_a_flat_column(second_studios):
    truth = pd.concat([each.truth for each in second_studios])
    for defect in second.DEFECTS:
        told = truth[f"deciding:{defect_column(defect)}"].unique()
        named = {name for text in told for name in text.split(";") if name}
        assert named and named <= {each.name for each in columns()}, defect


def test_defects_come_as_often_as_in_a_class(studios):
    for defect, (low, high) in USUAL_RATES.items():
        rate = np.mean([s.truth[f"chance:{defect_column(defect)}"].mean() for s in studios])
        assert low <= rate <= high, (defect, rate)


def test_a_tenth_to_two_fifths_of_what_could_be_written_is_blank(studios):
    names = ["coats", "thickness_mm", "bisque_cone", "cone_reached", "hold_min", "target_cone"]
    blank = [s.frame[names].isna().to_numpy().mean() for s in studios]
    assert 0.10 < np.mean(blank) < 0.40
    never = [s.frame["thickness_mm"].isna().all() for s in studios]
    assert any(never) and not all(never)


def test_a_tenth_to_two_fifths_of_the_second_studio_is_blank(second_studios):
    names = ["coats", "thickness_mm", "bisque_cone", "cone_reached", "hold_min", "target_cone"]
    blank = [s.frame[names].isna().to_numpy().mean() for s in second_studios]
    assert 0.10 < np.mean(blank) < 0.40
    assert max(blank) - min(blank) > 0.1


def test_the_second_studio_notes_as_often_as_it_says():
    rng = np.random.default_rng(3)
    chance = {d: rng.beta(1, 6, 100) for d in second.DEFECTS}
    rounds, count = 400, {d: 0.0 for d in chance}
    for _ in range(rounds):
        seen = second_seeing.note(rng, chance, eye=0.85)
        count = {d: count[d] + (seen.word[d] != "none").mean() for d in chance}
    for defect, total in count.items():
        expected = seen.chance[defect].mean()
        spread = (expected * (1 - expected) / (rounds * 100)) ** 0.5
        assert abs(total / rounds - expected) < 4.5 * spread, defect


def test_the_chance_of_a_note_is_how_often_it_is_noted():
    studio = make_studio(60, 3)
    area = make_tiles(studio, 60)
    chance = {
        d: 1 - np.exp(-sum(cause(studio, area).values())) for d, cause in hazards.MECHANISMS.items()
    }
    likely = seeing.chance_noted(studio, area, chance)
    rounds, count = 400, {d: 0.0 for d in chance}
    for _ in range(rounds):
        noted = seeing.note(studio, area, seeing.happen(studio.rng, chance))
        count = {d: count[d] + noted[d].mean() for d in chance}
    for defect, total in count.items():
        expected = likely[defect].mean()
        spread = (expected * (1 - expected) / (rounds * len(area["tile"]))) ** 0.5
        assert abs(total / rounds - expected) < 4.5 * spread, defect


@pytest.mark.slow
def test_every_cause_has_its_deciding_columns_and_leads_somewhere():
    known = {each.name for each in columns()}
    studio = make_studio(30, 0)
    area = make_tiles(studio, 30)
    causes = {
        (defect, cause)
        for defect, mechanism in hazards.MECHANISMS.items()
        for cause in mechanism(studio, area)
    }
    assert all(set(deciding.columns_for(cause)) <= known for _, cause in causes)
    never_led = set(causes)
    for seed in range(30):
        truth = simulate.simulate(300, seed).truth
        for defect in simulate.DEFECTS:
            led = truth[f"cause:{defect_column(defect)}"].unique()
            never_led -= {(defect, cause) for cause in led}
        if not never_led:
            break
    assert not never_led


def test_severity_rises_with_the_hazard(studios):
    rows = pd.concat([s.frame for s in studios])
    truth = pd.concat([s.truth for s in studios])
    chance = truth.groupby(rows["defect_crawling"].to_numpy())["chance:defect_crawling"].mean()
    assert chance["none"] < chance["slight"] < chance["moderate"] < chance["severe"]


def test_glazes_and_tiles_are_never_on_both_sides(studios):
    frame = studios[0].frame
    tested = []
    for train, test in splits.by_glaze(frame):
        assert not set(frame["glaze"].iloc[train]) & set(frame["glaze"].iloc[test])
        assert not set(frame["mark"].iloc[train]) & set(frame["mark"].iloc[test])
        tested += list(test)
    assert sorted(tested) == list(range(len(frame)))


def test_forward_in_time_trains_on_the_older_tiles(studios):
    frame = studios[0].frame
    [(train, test)] = splits.forward(frame)
    assert frame["fired_on"].iloc[train].max() <= frame["fired_on"].iloc[test].min()
    assert frame["mark"].iloc[train].nunique() == round(0.7 * 120)
    assert len(train) + len(test) == len(frame)


def test_a_forecaster_sees_no_outcome(studios):
    class Spy(baselines.BaseRate):
        def predict_proba(self, frame):
            after = [c for c in frame if c.startswith("defect_") or c == "clue_worst_where_thick"]
            assert frame[after].isna().all(axis=None)
            assert frame["mark"].notna().all()
            return super().predict_proba(frame)

    assert score.hold_back(studios[0], {"spy": Spy}, "forward in time") is not None


def test_log_loss_and_brier_agree_with_scikit_learn():
    from sklearn.metrics import brier_score_loss
    from sklearn.metrics import log_loss as published

    rng = np.random.default_rng(1)
    p, y = rng.uniform(0.01, 0.99, 500), rng.integers(0, 2, 500).astype(float)
    assert score.log_loss(p, y) == pytest.approx(published(y, p))
    assert score.brier(p, y) == pytest.approx(brier_score_loss(y, p))


def test_calibration_error_is_small_for_true_chances_and_large_for_boasts():
    rng = np.random.default_rng(2)
    p = rng.beta(1, 5, 20_000)
    y = (rng.random(20_000) < p).astype(float)
    assert score.calibration_error(p, y) < 0.01
    assert score.calibration_error(np.sqrt(p), y) > 0.15


def test_the_oracle_closes_the_whole_gap_and_the_base_rate_none(studios):
    found = score.compare(studios, {}, "glazes kept apart")
    assert found.loc["oracle", "gap"] == pytest.approx(1)
    assert found.loc["base rate", "gap"] == 0
    assert found.loc["oracle", "log_loss"] < found.loc["base rate", "log_loss"] - 0.05
    assert found.loc["oracle", "calibration"] < found.loc["base rate", "calibration"]


@pytest.mark.slow
def test_plain_logistic_is_worse_than_the_base_rate_at_thirty_tiles():
    found = run.table(30, 2, run.BASELINES, "glazes kept apart")
    assert found.loc["plain logistic", "log_loss"] > found.loc["base rate", "log_loss"] + 0.05
    assert found.loc["oracle", "log_loss"] < found["log_loss"].drop("oracle").min()


def test_a_new_glaze_has_no_rate_of_its_own_and_a_known_one_has():
    frame = pd.concat([simulate.simulate(100, seed).frame for seed in range(2)], ignore_index=True)
    model = baselines.GlazeRate().fit(frame)
    new = frame.head(3).assign(glaze="never seen")
    base = baselines.BaseRate().fit(frame).predict_proba(new)
    pd.testing.assert_frame_equal(model.predict_proba(new), base, check_names=False)
    assert model.predict_proba(frame)["defect_crazing"].nunique() > 1


def test_the_bench_takes_nothing_from_the_rule_base():
    for file in FOLDER.rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            assert not any(name.split(".")[0] == "diagnose" for name in names), file.name


@pytest.mark.parametrize("bench", run.BENCHES)
def test_run_prints_a_table_for_a_named_forecaster(capsys, bench):
    run.main(["--sizes", "30", "--studios", "2", "--splits", "forward in time", "--no-baselines",
              "--forecaster", "tests.bench.baselines:GlazeRate", "--bench", bench])  # fmt: skip
    told = capsys.readouterr().out
    assert "forward in time, 30 tiles, 2 studios" in told
    assert "tests.bench.baselines:GlazeRate" in told and "oracle" in told


def test_each_bench_is_asked_of_its_own_defects(studios, second_studios):
    third = run.BENCHES["third"](60, 0)
    for studio in (studios[0], second_studios[0], third):
        defects = studio.defects
        told = score.forecast(baselines.BaseRate(), studio.frame, studio.frame, defects)
        assert told.shape == (len(studio.frame), len(defects))
        seen = [baselines.labels(studio.frame, defect_column(d)) for d in defects]
        looked_for = [np.isfinite(each).any() for each in seen]
        assert sum(looked_for) >= 10
        rate = [np.nanmean(each) for each, was in zip(seen, looked_for, strict=True) if was]
        assert told[0][looked_for] == pytest.approx(rate, abs=0.02)
    assert set(studios[0].defects) < set(second_studios[0].defects)
    assert set(third.defects) - set(studios[0].defects) == {
        "bloating", "colour shift", "metal marking"
    }  # fmt: skip


def test_a_studio_with_one_glaze_on_record_has_nothing_to_keep_apart():
    frame = pd.DataFrame({"mark": ["A", "B", "C"], "glaze": ["moss", "moss", None]})
    assert len(list(splits.by_glaze(frame))) == 2
    assert not list(splits.by_glaze(frame.assign(glaze="moss")))
