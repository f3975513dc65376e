import math
from dataclasses import replace

import pytest

from diagnose.measures.of_area import Measure
from diagnose.report import is_enough
from diagnose.rules import Cause, RuleBook, Sign, load
from diagnose.together import share_without
from diagnose.weighing import combine, ramp, weigh


def cause(name, prior, *signs):
    return Cause(name, name, "Because.", {"low_fire": prior, "mid_range": prior}, (), signs)


def fact(name, value):
    return {name: Measure(name, value, "", f"{name} {value}")}


THICK = Sign(
    "thickness_mm",
    weight_for=2.0,
    weight_against=1.0,
    counts_from=1.0,
    counts_fully=2.0,
    against_from=0.8,
    against_fully=0.4,
)
CRACKED = Sign(
    "raw_coat_cracked",
    weight_for=1.0,
    weight_against=0.5,
    counts_if=("yes",),
    against_if=("no",),
)
BOOK = RuleBook(
    "a fault of our own",  # of which nothing is expected in general
    (cause("thick", 30, THICK, CRACKED), cause("dust", 60)),
    {"low_fire": 10, "mid_range": 10},
)


def shares(measures, book=BOOK, setting="low_fire"):
    return {row.cause.name if row.cause else "other": row for row in weigh(book, measures, setting)}


def test_shares_can_be_worked_out_by_hand():
    # Coat 1.5 mm: half of 2.0 = 1.0. Cracks: 1.0. Support 1.0 + half of 1.0 = 1.5.
    # Weights 30 e^1.5 = 134.45, dust 60, other 10: share 134.45 / 204.45 = 0.658.
    rows = shares(fact("thickness_mm", 1.5) | fact("raw_coat_cracked", "yes"))
    assert rows["thick"].support == pytest.approx(1.5)
    assert rows["thick"].log_odds == pytest.approx(math.log(0.3) + 1.5)
    assert rows["thick"].share == pytest.approx(0.6576, abs=1e-4)
    assert rows["dust"].share == pytest.approx(0.2935, abs=1e-4)
    assert rows["other"].share == pytest.approx(0.0489, abs=1e-4)


def test_evidence_against_can_be_worked_out_by_hand():
    # Coat 0.6 mm: half of 1.0 against. Weights 30 e^-0.5 = 18.196, 60, 10: 18.196 / 88.196.
    rows = shares(fact("thickness_mm", 0.6))
    assert rows["thick"].opposition == pytest.approx(0.5)
    assert rows["thick"].share == pytest.approx(0.2063, abs=1e-4)


def test_the_answer_for_a_real_rule_can_be_worked_out_by_hand():
    # crawling.toml, low fire: thick coat has prior 28 and a decisive pair of signs on this tile,
    # 1.2 mm (half of 2.0) and "worst where thick" (1.5): support 1.5 + 0.5 = 2.0. In general,
    # expected/crawling.csv has 1.2 mm on the line from 0.2 mm (-0.65) to 1.3 mm (1.15):
    # -0.65 + 1.80 x 1.0 / 1.1 = 0.986, of which 0.75 counts: 0.740.
    rows = weigh(
        load("crawling"), fact("thickness_mm", 1.2) | fact("worst_where_thick", "yes"), "low_fire"
    )
    first = rows[0]
    assert first.cause.name == "coat_too_thick"
    assert first.support == pytest.approx(2.0)
    assert first.expected == pytest.approx(0.75 * (-0.65 + 1.80 / 1.1))
    weight, others = 28 * math.exp(2 + first.expected), 100 - 28
    assert first.share == pytest.approx(weight / (weight + others), rel=1e-9)


def test_no_evidence_leaves_the_priors():
    rows = shares({})
    assert rows["thick"].share == pytest.approx(0.3)
    assert rows["dust"].share == pytest.approx(0.6)
    assert [sign.measure for sign in rows["thick"].missing] == ["thickness_mm", "raw_coat_cracked"]


def test_a_value_between_the_ramps_counts_neither_way():
    rows = shares(fact("thickness_mm", 0.9))
    assert rows["thick"].share == pytest.approx(0.3)
    assert not rows["thick"].for_
    assert not rows["thick"].against


def test_the_third_sign_of_a_cause_adds_nothing():
    assert combine([2.0, 1.0, 1.0]) == combine([2.0, 1.0]) == 2.5
    assert combine([]) == 0


@pytest.mark.parametrize(
    ("value", "start", "full", "expected"),
    [(0.5, 1, 2, 0), (1.25, 1, 2, 0.25), (3, 1, 2, 1), (0, 1, -1, 0.5), (-3, 1, -1, 1)],
)
def test_a_ramp_is_straight_and_works_both_ways(value, start, full, expected):
    assert ramp(value, start, full) == pytest.approx(expected)


def test_an_unknown_setting_takes_the_mean_of_both_priors():
    low_high = Cause("a", "a", "", {"low_fire": 10, "mid_range": 30}, (), ())
    book = RuleBook("crawling", (low_high,), {"low_fire": 90, "mid_range": 70})
    rows = shares({}, book, "unknown")
    assert rows["a"].share == pytest.approx(0.2)


def test_a_sign_counts_only_under_its_condition():
    matt = Sign(
        "thickness_mm", weight_for=2, counts_from=1, counts_fully=2, only={"finish": ("matt",)}
    )
    gloss = Sign(
        "thickness_mm", weight_for=1, counts_from=1, counts_fully=2, only={"not_finish": ("matt",)}
    )
    book = RuleBook("crawling", (cause("thick", 50, matt, gloss),), {"low_fire": 50})
    for finish, support in ((None, 1), ("gloss", 1), ("matt", 2)):
        known = fact("thickness_mm", 2.0) | (fact("finish", finish) if finish else {})
        assert shares(known, book)["thick"].support == support


def test_a_condition_on_the_setting_is_respected():
    low = Sign(
        "coats", weight_for=1, counts_from=1, counts_fully=2, only={"setting": ("low_fire",)}
    )
    book = RuleBook("crawling", (cause("a", 50, low),), {"low_fire": 50, "mid_range": 50})
    assert shares(fact("coats", 3), book, "low_fire")["a"].support == 1
    assert shares(fact("coats", 3), book, "mid_range")["a"].support == 0


def test_a_count_of_coats_does_not_argue_with_a_measured_coat():
    coats = Sign(
        "coats",
        weight_against=1,
        against_from=2,
        against_fully=1,
        against_unless=("thickness_mm",),
    )
    book = RuleBook("crawling", (cause("thick", 50, THICK, coats),), {"low_fire": 50})
    assert shares(fact("coats", 1), book)["thick"].opposition == 1
    assert shares(fact("coats", 1) | fact("thickness_mm", 1.6), book)["thick"].opposition == 0


def test_a_fact_counts_in_general_only_for_the_causes_that_rest_on_it():
    recorded = fact("coats", 6) | fact("method", "brush")
    rows = {row.cause.name: row for row in weigh(load("crawling"), recorded) if row.cause}
    assert rows["coat_too_thick"].expected > 0.5
    assert rows["dirty_bisque"].expected == rows["wax_splash"].expected == 0
    assert all(row.expected == 0 for name, row in rows.items() if name.endswith("_misnamed"))


def test_coat_and_heat_are_one_fact_however_often_they_are_measured():
    def expected(defect, name, **recorded):
        facts = {k: Measure(k, v, "", "") for k, v in recorded.items()}
        return next(r for r in weigh(load(defect), facts) if r.cause.name == name).expected

    mm = expected("crawling", "coat_too_thick", thickness_mm=1.3)
    fired = expected("crawling", "coat_too_thick", fired_thickness_mm=0.78)
    both = expected("crawling", "coat_too_thick", thickness_mm=1.3, fired_thickness_mm=0.78)
    assert both == pytest.approx(max(mm, fired))
    # A cold shelf rests on the heat, which its own measure tells as well as the label's does.
    cold = {"cones_from_label_middle": -2.0, "cones_below_other_shelves": 2.0}
    shelf = expected("underfired", "cold_shelf", **cold)
    assert shelf == pytest.approx(expected("underfired", "kiln_short", **cold)) and shelf > 0.5


def test_a_measure_that_hardly_speaks_for_a_cause_does_not_lower_it_beside_one_against():
    def log_odds(**recorded):
        facts = {k: Measure(k, v, "", "") for k, v in recorded.items()}
        rows = weigh(load("underfired"), facts)
        return next(
            row.log_odds for row in rows if row.cause and row.cause.name == "record_contradicts"
        )

    met = log_odds(cones_over_target=0.0)
    assert log_odds(cones_over_target=0.0, cones_over_body=3.001) >= met
    assert log_odds(cones_over_target=0.0, cones_over_body=6.0) > met + 0.5


def test_what_a_note_says_counts_less_in_general_too():
    told = {"thickness_mm": Measure("thickness_mm", 1.3, "mm", "", "thick, 1.3 mm")}
    noted, recorded = (weigh(load("crawling"), m)[0].expected
                       for m in (told, fact("thickness_mm", 1.3)))  # fmt: skip
    assert noted == pytest.approx(0.6 * recorded)


def test_whether_an_answer_can_be_given_rests_on_signs_and_not_on_what_is_so_in_general():
    rows = weigh(load("crawling"), fact("coats", 4) | fact("method", "brush"), "low_fire")
    first = rows[0]  # four log-odds in general count three
    general = replace(first, in_general=(("coat", 4.0),))
    lifted = [replace(general, log_odds=first.log_odds - first.expected + 3.0), *rows[1:]]
    assert share_without(lifted, "expected") == pytest.approx(share_without(rows, "expected"))
    assert is_enough(lifted) is is_enough(rows)
