"""Laws of the weighing, over random records."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from diagnose.curves import curves, one_fact
from diagnose.measures.of_area import NOTE_TRUST, Measure, measures
from diagnose.notes.phrases import patterns
from diagnose.report import why
from diagnose.rules import load
from diagnose.weighing import applies, strength_for, weigh
from tiles.records.clues import clues
from tiles.records.forms import TileRecord
from tiles.records.words import ANSWERS, DEFECTS, STOOD

SETTINGS = st.sampled_from(["low_fire", "mid_range", "unknown"])
NUMBERS = st.floats(-10, 300, allow_nan=False)
ALL_SIGNS = [
    (defect, cause, sign)
    for defect in DEFECTS
    for cause in load(defect).causes
    for sign in cause.signs
]
FOR_SIGNS = [each for each in ALL_SIGNS if each[2].weight_for > 0]


def fact(sign, strength):
    """A measure that meets the sign this far, from 0 (starts to count) to 1 (in full)."""
    if sign.counts_if:
        value = sign.counts_if[0]
    else:
        value = sign.counts_from + strength * (sign.counts_fully - sign.counts_from)
    return Measure(sign.measure, value, "", f"{sign.measure} {value}")


@st.composite
def known_facts(draw, defect):
    signs = [sign for d, _, sign in ALL_SIGNS if d == defect]
    chosen = draw(st.lists(st.sampled_from(range(len(signs))), max_size=6, unique=True))
    found = {}
    for place in chosen:
        sign = signs[place]
        texts = (*sign.counts_if, *sign.against_if)
        value = draw(st.sampled_from(texts)) if texts else draw(NUMBERS)
        found[sign.measure] = Measure(sign.measure, value, "", str(value))
    return found


def share(rows, name):
    return next(row.share for row in rows if row.cause and row.cause.name == name)


@settings(max_examples=300, deadline=None)
@given(data=st.data(), where=SETTINGS)
def test_adding_evidence_for_a_cause_never_lowers_its_share(data, where):
    defect, cause, sign = data.draw(st.sampled_from(FOR_SIGNS))
    before = data.draw(known_facts(defect))
    before.pop(sign.measure, None)
    after = before | {sign.measure: fact(sign, data.draw(st.floats(0.01, 1)))}
    if not applies(sign, after, where):
        return
    book = load(defect)
    # The same fact may speak for another cause more strongly: then the share may go to that one.
    gains = _gains(book, before, after, where)
    if gains[cause.name] < max(gains.values()) or _gates(defect, sign.measure):
        return
    assert gains[cause.name] >= -1e-12
    assert share(weigh(book, after, where), cause.name) >= (
        share(weigh(book, before, where), cause.name) - 1e-12
    )


def _gates(defect, measure):
    """Whether what other facts do in general hangs on this one: coats on brush or dip."""
    return any(measure == name for curve in curves(defect) for name, _ in curve.only)


def _gains(book, before, after, where):
    first = {row.cause.name: row.log_odds for row in weigh(book, before, where) if row.cause}
    return {
        row.cause.name: row.log_odds - first[row.cause.name]
        for row in weigh(book, after, where)
        if row.cause
    }


@settings(max_examples=200, deadline=None)
@given(data=st.data(), where=SETTINGS)
def test_what_a_fact_does_in_general_never_takes_back_what_a_sign_made_of_it(data, where):
    defect = data.draw(st.sampled_from(sorted({defect for defect, *_ in FOR_SIGNS})))
    for row in weigh(load(defect), data.draw(known_facts(defect)), where):
        general = dict(row.in_general)
        for sign in row.for_:
            assert general.get(one_fact(sign.sign.measure), 0) >= 0 or row.against
        if not row.for_:
            for sign in row.against:
                assert general.get(one_fact(sign.sign.measure), 0) <= 0


@settings(max_examples=200, deadline=None)
@given(data=st.data(), where=SETTINGS)
def test_evidence_for_a_cause_never_lowers_its_own_log_odds(data, where):
    defect, cause, sign = data.draw(st.sampled_from(FOR_SIGNS))
    before = data.draw(known_facts(defect))
    before.pop(sign.measure, None)
    after = before | {sign.measure: fact(sign, data.draw(st.floats(0.01, 1)))}
    gating = {key.removeprefix("not_") for each in cause.signs for key in each.only}
    if sign.measure in gating or _gates(defect, sign.measure) or not applies(sign, after, where):
        return
    assert _gains(load(defect), before, after, where)[cause.name] >= -1e-12


@settings(max_examples=200, deadline=None)
@given(data=st.data(), where=SETTINGS)
def test_shares_add_up_and_every_one_is_possible(data, where):
    defect = data.draw(st.sampled_from(DEFECTS))
    rows = weigh(load(defect), data.draw(known_facts(defect)), where)
    assert sum(row.share for row in rows) == pytest.approx(1)
    assert all(0 < row.share < 1 for row in rows)


@settings(max_examples=100, deadline=None)
@given(data=st.data(), where=SETTINGS)
def test_the_order_of_facts_does_not_matter(data, where):
    defect = data.draw(st.sampled_from(DEFECTS))
    found = data.draw(known_facts(defect))
    turned = dict(reversed(found.items()))
    assert weigh(load(defect), found, where) == weigh(load(defect), turned, where)


def facts_that_point_at(book, cause):
    """Its strongest sign in full, the conditions of that sign, and what speaks against the rest."""
    strongest = max(cause.signs, key=lambda sign: sign.weight_for)
    found = {strongest.measure: fact(strongest, 1)}
    for key, allowed in strongest.only.items():
        if not key.startswith("not_") and key != "setting":
            found[key] = Measure(key, allowed[0], "", "")
    taken = {sign.measure for sign in cause.signs} | set(found)
    taken |= {key.removeprefix("not_") for key in strongest.only}
    others = [sign for each in book.causes if each is not cause for sign in each.signs]
    for sign in others:
        if sign.weight_against == 0 or sign.measure in taken or sign.only:
            continue
        value = sign.against_if[0] if sign.against_if else sign.against_fully
        helps = [s for s in others if s.measure == sign.measure and strength_for(s, value) > 0]
        if not helps:
            found[sign.measure] = Measure(sign.measure, value, "", "")
    return found


@pytest.mark.parametrize("defect", DEFECTS)
def test_every_cause_can_come_first(defect):
    book = load(defect)
    for cause in book.causes:
        found = facts_that_point_at(book, cause)
        firsts = [weigh(book, found, where)[0].cause for where in ("low_fire", "mid_range")]
        assert cause in firsts, cause.name


RECORDS = st.fixed_dictionaries(
    {"mark": st.just("T-1"), "body": st.just("red")},
    optional={
        "bisque_cone": st.sampled_from(["08", "06", "04", "02"]),
        "cone_reached": st.sampled_from(["06", "05", "04", "5", "6"]),
        "stood": st.sampled_from(STOOD),
        "clues": st.dictionaries(
            st.sampled_from(list(clues())), st.sampled_from(ANSWERS), max_size=5
        ),
        "firing": st.fixed_dictionaries(
            {"name": st.just("F1")},
            optional={
                "target_cone": st.sampled_from(["05", "5"]),
                "hold_min": st.floats(0, 120),
                "opened_c": st.floats(0, 400),
                "fired_on": st.just("2025-03-01"),
            },
        ),
        "areas": st.lists(
            st.fixed_dictionaries(
                {
                    "coats": st.none() | st.integers(1, 6),
                    "thickness_mm": st.none() | st.floats(0.1, 3),
                    "glaze": st.sampled_from(["green", "blue"]),
                }
            ),
            max_size=3,
        ).map(lambda layers: [{"number": n, "layers": [e]} for n, e in enumerate(layers, 1)]),
    },
)


@settings(max_examples=150, deadline=None)
@given(record=RECORDS, defect=st.sampled_from(DEFECTS))
def test_the_order_of_fields_and_areas_does_not_matter(record, defect):
    look = [{"inspected_on": "2025-03-20", "defects": [{"defect": defect}]}]
    one = TileRecord.model_validate({**record, "inspections": look})
    turned = {**dict(reversed(record.items())), "inspections": look}
    other = TileRecord.model_validate(turned)
    assert why(one) == why(other)


@settings(max_examples=100, deadline=None)
@given(record=RECORDS, defect=st.sampled_from(DEFECTS))
def test_a_measure_is_never_given_for_a_field_left_blank(record, defect):
    found = measures(TileRecord.model_validate(record), None, defect)
    if "bisque_cone" not in record:
        assert "bisque_cones_below_04" not in found
        assert "bisque_minus_glaze_cones" not in found
    if "cone_reached" not in record:
        assert "cone_reached" not in found
        assert "cones_over_target" not in found
    firing = record.get("firing", {})
    for name in ("hold_min", "opened_c"):
        assert (name in found) == (name in firing)
    if not any(a["layers"][0]["thickness_mm"] for a in record.get("areas", [])):
        assert "thickness_mm" not in found


@settings(max_examples=60, deadline=None)
@given(
    record=RECORDS,
    logged=st.lists(st.sampled_from(DEFECTS), min_size=2, max_size=4, unique=True),
    turn=st.randoms(use_true_random=False),
)
def test_the_order_of_several_defects_does_not_matter(record, logged, turn):
    turned = list(logged)
    turn.shuffle(turned)
    answers = []
    for defects in (logged, turned):
        look = {"inspected_on": "2025-03-20", "defects": [{"defect": d} for d in defects]}
        found = why(TileRecord.model_validate({**record, "inspections": [look]}))
        answers.append({(each.defect, each.instead_of): each.causes for each in found})
    assert answers[0] == answers[1]


@settings(max_examples=60, deadline=None)
@given(record=RECORDS, defect=st.sampled_from(DEFECTS), further=st.sampled_from(DEFECTS))
def test_a_further_defect_never_lowers_a_cause_that_explains_both_against_one_that_does_not(
    record, defect, further
):
    if defect == further:
        return
    alone = _rows(record, [defect], defect)
    both = _rows(record, [defect, further], defect)
    for name, row in both.items():
        assert row.bonus >= 0
        # The bonus is all that a further defect changes.
        assert row.log_odds - row.bonus == pytest.approx(alone[name].log_odds)


def _rows(record, defects, asked):
    look = {"inspected_on": "2025-03-20", "defects": [{"defect": d} for d in defects]}
    (found,) = (
        each
        for each in why(TileRecord.model_validate({**record, "inspections": [look]}))
        if each.defect == asked and each.instead_of is None
    )
    return {row.cause.name: row for row in found.case.rows if row.cause}


NOTES = st.lists(st.sampled_from([each.phrase for each in patterns()]), max_size=3).map(
    lambda phrases: ". ".join(
        " ".join(part.split("|")[0].strip("*") for part in phrase.split() if part not in "...#")
        for phrase in phrases
    )
)


@settings(max_examples=100, deadline=None)
@given(record=RECORDS, note=NOTES, defect=st.sampled_from(DEFECTS))
def test_a_note_never_changes_what_a_field_says_and_never_weighs_more(record, note, defect):
    look = [{"inspected_on": "2025-03-20", "defects": [{"defect": defect}]}]
    plain = TileRecord.model_validate({**record, "inspections": look})
    noted = plain.model_copy(update={"note": note})
    without, with_note = why(plain)[0].case, why(noted)[0].case
    for name, fact in without.facts.items():
        assert with_note.facts[name] == fact
    for row in with_note.rows:
        for each in (*row.for_, *row.against):
            assert each.measure.trust == (NOTE_TRUST if each.measure.note else 1)
