"""The curves of what is expected: every line can be read, and says what it says."""

from importlib.resources import files

import pytest

from diagnose import curves as of_faults
from diagnose.learning import expected
from diagnose.learning.model import Seen
from diagnose.learning.rows import from_frame
from diagnose.learning.table import may_forecast
from diagnose.vocabulary import measure_words
from tests.unit.diagnose.test_cause_files import CHOICES
from tiles.records.clues import clues
from tiles.records.words import ANSWERS, DEFECTS

FILES = sorted(
    each for each in files("diagnose").joinpath("expected").iterdir() if each.name.endswith(".csv")
)


def _defect(file) -> str:
    return file.name.removesuffix(".csv").replace("_", " ")


def _columns(defect: str, **rows) -> dict:
    import pandas as pd

    n = len(next(iter(rows.values())))
    frame = pd.DataFrame({"mark": [f"M-{i}" for i in range(n)], "body": "clay", "glaze": "moss"})
    return expected.columns(defect, Seen(from_frame(frame.assign(**rows)).rows).drawn)


@pytest.mark.parametrize("file", FILES, ids=_defect)
def test_every_line_names_measures_known_before_the_firing_and_can_be_read(file):
    import csv

    assert _defect(file) in DEFECTS
    lines = list(csv.DictReader(file.read_text(encoding="utf-8").splitlines()))
    curves = of_faults.curves(_defect(file))
    assert len(curves) == len(lines) >= 10
    known = measure_words().keys() | clues().keys()
    for line, curve in zip(lines, curves, strict=True):
        assert {curve.measure, *(measure for measure, _ in curve.only)} <= known
        assert may_forecast(curve.measure)
        assert len(curve.points) == line["log_odds"].count(":")
        assert all(words and all(words) for _, words in curve.only)
        assert line["because"] and max(abs(said) for _, said in curve.points) >= 0.06
        values = [value for value, _ in curve.points]
        has_unit = curve.measure in measure_words() and bool(measure_words()[curve.measure].unit)
        assert has_unit == (not isinstance(values[0], str)), curve.measure
        if has_unit:
            assert values == sorted(values)
        assert len(set(values)) == len(values)


@pytest.mark.parametrize("file", FILES, ids=_defect)
def test_no_line_waits_for_a_word_that_no_record_can_hold(file):
    choices = CHOICES | dict.fromkeys(clues(), ANSWERS)
    for curve in of_faults.curves(_defect(file)):
        said = tuple(value for value, _ in curve.points if isinstance(value, str))
        for measure, words in ((curve.measure, said), *curve.only):
            assert set(words) <= set(choices.get(measure, words)), measure


@pytest.mark.parametrize("file", FILES, ids=_defect)
def test_no_line_stands_twice(file):
    keys = [(curve.measure, curve.only) for curve in of_faults.curves(_defect(file))]
    assert len(set(keys)) == len(keys)


def test_a_number_is_read_off_the_line_between_two_points(monkeypatch):
    curve = of_faults.Curve("thickness_mm", (), ((0.5, 0.0), (1.5, 2.0)))
    monkeypatch.setattr(expected, "curves", lambda _: (curve,))
    said = _columns("crawling", thickness_mm=[0.2, 0.75, 1.5, 3.0])
    assert said["expected"] == pytest.approx([0.0, 0.5, 2.0, 2.0])
    assert said["curve:coat"] == pytest.approx([0.0, 0.5, 2.0, 2.0])


def test_a_condition_leaves_a_line_out_where_it_does_not_hold(monkeypatch):
    curve = of_faults.Curve("coats", (("method", ("brush",)),), ((3.0, 0.0), (5.0, 1.0)))
    monkeypatch.setattr(expected, "curves", lambda _: (curve,))
    said = _columns("crawling", coats=[5, 5, 4], method=["brush", "dip", "brush"])
    assert said["expected"] == pytest.approx([1.0, 0.0, 0.5])


def test_coats_and_thickness_are_one_argument(monkeypatch):
    coats = of_faults.Curve("coats", (), ((3.0, 0.0), (5.0, 1.0)))
    thick = of_faults.Curve("thickness_mm", (), ((0.5, 0.0), (1.5, 2.0)))
    monkeypatch.setattr(expected, "curves", lambda _: (coats, thick))
    said = _columns("crawling", coats=[5, 5], thickness_mm=[1.5, 0.5])
    assert said["expected"] == pytest.approx([1.5, 0.5], abs=1e-4)


def test_an_answer_counts_less_than_what_it_tells_of(monkeypatch):
    curve = of_faults.Curve("bisque_dusty", (), (("yes", 1.0), ("no", -0.2)))
    monkeypatch.setattr(expected, "curves", lambda _: (curve,))
    said = _columns("crawling", clue_bisque_dusty=["yes", "no"])
    reliance = of_faults.RELIANCE["clue"]
    assert said["expected"] == pytest.approx([reliance, -0.2 * reliance])


def test_what_is_worked_out_of_the_glass_counts_in_full_and_other_numbers_of_a_recipe_less():
    for measure in ("melt_thinnest_log10_pa_s", "glaze_expansion_ppm_per_k"):
        assert of_faults.reliance(measure) == 1, measure
    assert of_faults.reliance("raw_clay_pct") == of_faults.RELIANCE["recipe"] < 1


def test_what_nobody_recorded_says_nothing():
    assert _columns("other", coats=[3, 4]) == {}
    bare = _columns("crawling", coats=[3, 4])
    assert not {name for name in bare if "revived" in name or "dusty" in name}
