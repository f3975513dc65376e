"""What is questioned before it is stored, and what is refused.

Temperatures: cone 05 about 1031 C / 1888 F, 5 about 1186 C / 2167 F at the medium rate, from the
chart that tests/outside/test_cone_chart.py holds. Low fire about cone 08 to 04: common practice,
no source.
"""

import pytest

from tiles.errors import InvalidValue, Questioned
from tiles.records import forms, questions

LOW = {"cone_low": "06", "cone_high": "04"}
MID = {"cone_low": "5", "cone_high": "6"}


def tile(*, body=None, glaze=None, **values):
    area = {"number": 1, "layers": [{"glaze": {"name": "pond green"} | (glaze or {})}]}
    named = {"name": "red earthenware"} | (body or {})
    return forms.read(forms.TileRecord, {"mark": "M-1", "body": named, "areas": [area]} | values)


@pytest.mark.parametrize(
    ("record", "asked"),
    [
        (tile(glaze=LOW, cone_reached="05"), 0),
        (tile(glaze=LOW, cone_reached="02"), 0),  # two above: a test made on purpose
        (tile(glaze=LOW, cone_reached="01"), 0),
        (tile(glaze=LOW, cone_reached="1"), 1),  # four steps above 04
        (tile(glaze=LOW, cone_reached="5"), 1),
        (tile(glaze=LOW, cone_reached="010"), 1),
        (tile(glaze=LOW, cone_reached="09"), 0),
        (tile(glaze=MID, cone_reached="05"), 1),
        (tile(glaze=MID, cone_reached="2"), 0),
        (tile(body=LOW, glaze=LOW, cone_reached="5"), 1),  # one sentence names both
        (tile(body=LOW, glaze=MID, cone_reached="5"), 1),
        (tile(cone_reached="5"), 0),
        (tile(glaze=LOW), 0),
        (tile(glaze=LOW, firing={"name": "F1", "target_cone": "5"}), 1),
        (tile(cone_reached="5", firing={"name": "F1", "target_cone": "05"}), 1),
        (tile(glaze={"cone_low": "06"}, cone_reached="6"), 1),  # one end alone is that cone
        (tile(glaze={"cone_high": "04"}, cone_reached="022"), 1),
    ],
)
def test_a_cone_far_outside_a_label_is_questioned_and_a_near_one_is_not(record, asked):
    assert len(questions.questions(record)) == asked


def test_the_question_names_both_cones_with_both_temperatures():
    (asked,) = questions.questions(tile(body=LOW, glaze=LOW, cone_reached="5"))
    for part in ("cone reached 5", "1186 C", "2167 F", "cone 04", "1063 C", "1945 F", "above",
                 "body 'red earthenware' and glaze 'pond green'"):  # fmt: skip
        assert part in asked


def test_the_question_says_whose_cone_and_whose_limit_it_is():
    firing = {"name": "F1", "target_cone": "04", "witness_cones": [{"cone": "5"}]}
    (asked,) = questions.questions(tile(body=LOW, firing=firing))
    assert asked == (
        "cone reached 5 (about 1186 C / 2167 F), by the witness cone of F1, is far above cone 04 "
        "(about 1063 C / 1945 F), the target of F1 and the top for body 'red earthenware'."
    )


def test_confirmation_is_asked_for_as_an_error_with_the_remedy():
    with pytest.raises(Questioned) as question:
        questions.require_confirmation(tile(glaze=LOW, cone_reached="5"))
    assert question.value.message.startswith("M-1: ")
    assert "--yes" in question.value.hint
    questions.require_confirmation(tile(glaze=LOW, cone_reached="05"))


@pytest.mark.parametrize(
    ("body", "glaze", "found"),
    [(LOW, MID, 1), (MID, LOW, 1), (LOW, LOW, 0), (LOW, None, 0), (None, MID, 0),
     ({"cone_low": "06", "cone_high": "2"}, MID, 0), ({"kind": "earthenware"}, MID, 1),
     ({"kind": "earthenware"}, LOW, 0)],
)  # fmt: skip
def test_a_body_and_a_glaze_that_mature_far_apart_are_noted(body, glaze, found):
    assert len(questions.mismatches(tile(body=body, glaze=glaze))) == found


@pytest.mark.parametrize(
    ("body", "glaze", "peak_c", "asked"),
    [
        (LOW, None, 1186, 1),
        (LOW, None, 1063, 0),
        (LOW, None, 1125, 0),  # two to three cones above 04
        ({"cone_low": "06", "cone_high": "02"}, None, 1186, 1),
        (None, MID, 1030, 1),
        (None, MID, 1061, 1),
        (None, MID, 1190, 0),
        (LOW, None, 1440, 1),  # beyond the chart
        ({"kind": "earthenware"}, None, 1186, 1),
    ],
)
def test_a_peak_counts_where_no_cone_was_read_or_set(body, glaze, peak_c, asked):
    record = tile(body=body, glaze=glaze, firing={"name": "F1", "peak_c": peak_c})
    assert len(questions.questions(record)) == len(questions.far_outside(record)) == asked
    # A cone knows better: it feels the rate and the hold as well.
    read = {"cone_reached": "5" if glaze else "05"}
    assert not questions.questions(record.model_copy(update=read))


@pytest.mark.parametrize(("peak_c", "asked"), [(1186, 1), (1063, 0), (900, 0)])
def test_the_peak_of_a_bisque_counts_where_no_cone_tells(peak_c, asked):
    record = tile(body=LOW, bisque_firing={"name": "B1", "peak_c": peak_c})
    found = questions.questions(record)
    assert len(found) == len(questions.far_outside(record)) == asked
    assert not asked or found[0].startswith("peak 1186 C / 2167 F of B1 is far above cone 04")


def test_the_question_of_a_peak_names_its_firing_and_the_label():
    record = tile(glaze=MID, firing={"name": "F1", "peak_c": 1061})
    with pytest.raises(Questioned) as question:
        questions.require_confirmation(record)
    assert question.value.message == (
        "M-1: peak 1061 C / 1942 F of F1 is far below cone 5 (about 1186 C / 2167 F), the bottom "
        "for glaze 'pond green'."
    )
    assert question.value.hint.startswith("another firing")


ORDERED = {
    "made_on": "2026-01-01",
    "glazed_on": "2026-01-10",
    "bisque_firing": {"name": "B", "kind": "bisque", "fired_on": "2026-01-05"},
    "firing": {"name": "G", "kind": "glaze", "fired_on": "2026-01-20"},
    "inspections": [{"inspected_on": "2026-01-21"}],
}


def test_days_in_order_are_accepted_and_the_same_day_too():
    questions.refuse_contradictions(tile(**ORDERED))
    day = "2026-01-10"
    same = {"name": "G", "fired_on": day}
    questions.refuse_contradictions(
        tile(made_on=day, glazed_on=day, firing=same, inspections=[{"inspected_on": day}])
    )


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("made_on", "2026-01-15"),
        ("glazed_on", "2026-01-25"),
        ("bisque_firing", {"name": "B", "fired_on": "2026-01-22"}),
        ("bisque_firing", {"name": "B", "fired_on": "2025-12-31"}),
        ("firing", {"name": "G", "fired_on": "2026-01-02"}),
        ("inspections", [{"inspected_on": "2026-01-19"}]),
    ],
)
def test_days_out_of_order_are_refused_with_both_named(field, value):
    with pytest.raises(InvalidValue) as refused:
        questions.refuse_contradictions(tile(**ORDERED | {field: value}))
    assert refused.value.message.count("202") == 2


def coated(**layer):
    layers = [{"glaze": {"name": "pond green"}} | layer]
    return tile().model_copy(
        update={"areas": [forms.read(forms.AreaRecord, {"number": 1, "layers": layers})]}
    )


@pytest.mark.parametrize(
    ("layer", "asked"),
    [
        ({"thickness_mm": 0.8}, 0),
        ({"thickness_mm": 3.0}, 0),  # a trailed crater glaze (common practice, no source)
        ({"thickness_mm": 8.0}, 1),
        ({"fired_thickness_mm": 4.0}, 1),
        ({"thickness_mm": 8.0, "fired_thickness_mm": 4.0}, 2),
        ({"thickness_mm": 0.06}, 1),
        ({"thickness_mm": 0.1, "fired_thickness_mm": 0.05}, 0),
        ({"fired_thickness_mm": 0.03}, 1),
        ({}, 0),
    ],
)
def test_a_coat_thicker_or_thinner_than_glaze_is_put_on_is_questioned(layer, asked):
    assert len(questions.questions(coated(**layer))) == asked


def test_the_question_of_a_coat_gives_the_figure_and_asks_for_another():
    with pytest.raises(Questioned, match="dry coat of pond green 8 mm") as question:
        questions.require_confirmation(coated(thickness_mm=8.0))
    assert question.value.field == "thickness_mm"
    assert "0.8" in question.value.hint


def test_of_a_coat_too_thin_what_it_would_be_in_inches_is_told():
    with pytest.raises(Questioned, match=r"0\.06 inch would be 1\.5 mm"):
        questions.require_confirmation(coated(thickness_mm=0.06))


def test_what_was_confirmed_once_is_not_asked_again():
    thick = coated(thickness_mm=8.0)
    questions.require_confirmation(thick, before=questions.questions(thick))
    with pytest.raises(Questioned):
        questions.require_confirmation(coated(thickness_mm=9.0), questions.questions(thick))


EARTHENWARE = {"kind": "earthenware"}


@pytest.mark.parametrize(
    ("record", "asked"),
    [
        (tile(body=EARTHENWARE, cone_reached="3"), 0),
        (tile(body=EARTHENWARE, cone_reached="4"), 1),
        (tile(body=EARTHENWARE, cone_reached="05"), 0),
        (tile(body=EARTHENWARE, cone_reached="015"), 0),
        (tile(body=EARTHENWARE, firing={"name": "F1", "target_cone": "5"}), 1),
        (tile(body=EARTHENWARE, bisque_cone="4"), 1),
        (tile(body=EARTHENWARE, bisque_cone="04"), 0),
        (tile(body=EARTHENWARE | {"cone_low": "3", "cone_high": "6"}, cone_reached="5"), 0),
        (tile(body={"kind": "stoneware"}, cone_reached="5", bisque_cone="3"), 0),
    ],
)
def test_an_earthenware_without_a_label_range_is_questioned_from_cone_4(record, asked):
    """By cone 4 most earthenware slumps or bloats: common practice, no source."""
    found = questions.questions(record)
    assert len(found) == asked
    assert all("an earthenware (common practice)" in each for each in found)


def test_a_bisque_of_cone_4_is_questioned_on_a_clay_of_which_nothing_is_known():
    """It is 04, its 0 lost. It stops no forecast: no label speaks against it."""
    (asked,) = questions.questions(tile(cone_reached="5", bisque_cone="4"))
    assert "bisque cone 4" in asked and "the top for bisque (common practice)" in asked
    assert questions.far_outside(tile(bisque_cone="4")) == []
    assert questions.questions(tile(cone_reached="5", bisque_cone="3")) == []


@pytest.mark.parametrize(
    "body", [{"kind": "stoneware"}, {"kind": "stoneware", "cone_low": "4", "cone_high": "7"}]
)
def test_a_bisque_of_cone_4_is_questioned_on_any_clay_and_stops_no_forecast(body):
    record = tile(body=body, cone_reached="6", bisque_cone="4")
    (asked,) = questions.questions(record)
    assert "bisque cone 4" in asked and "the top for bisque (common practice)" in asked
    assert questions.far_outside(record) == []
    assert questions.questions(tile(body=body, cone_reached="6", bisque_cone="04")) == []


@pytest.mark.parametrize(
    ("told", "asked"),
    [
        ({"target_cone": "4"}, "target cone 4"),
        ({"witness_cones": [{"cone": "5"}]}, "witness cone 5"),
        ({"peak_c": 1186}, "peak 1186 C / 2167 F of B1"),
        ({"target_cone": "04"}, None),
        ({"target_cone": "3"}, None),
    ],
)
def test_a_bisque_firing_of_cone_4_is_asked_about_once_and_its_tiles_are_not(told, asked):
    firing = forms.read(forms.FiringRecord, {"name": "B1", "kind": "bisque"} | told)
    found = questions.firing_questions(firing)
    assert [each.startswith(asked) for each in found] == [True] * bool(asked)
    record = tile(body={"kind": "stoneware"}, bisque_firing=firing.model_dump())
    assert questions.questions(record) == []
    if asked:
        questions.require_firing_confirmation(firing, found)  # what was answered before
        with pytest.raises(Questioned):
            questions.require_firing_confirmation(firing)
    glaze = firing.model_copy(update={"kind": "glaze"})
    assert questions.firing_questions(glaze) == []


@pytest.mark.parametrize(
    ("target", "peak", "told"),
    [
        ("05", 1186, "far above"),
        ("5", 1031, "far below"),
        ("05", 1125, None),
        ("05", 935, None),
        ("06", 1001, None),
        ("05", None, None),
        (None, 1186, None),
    ],
)
def test_a_peak_far_from_the_target_cone_is_questioned(target, peak, told):
    firing = forms.FiringRecord(name="F1", target_cone=target, peak_c=peak)
    if told is None:
        questions.require_firing_confirmation(firing)
        return
    with pytest.raises(Questioned, match=f"peak {peak} C .* is {told} cone {target} ") as question:
        questions.require_firing_confirmation(firing)
    assert (question.value.field, "--yes" in question.value.hint) == ("peak_c", True)


def test_an_earthenware_with_one_end_of_a_label_is_judged_by_that_end_alone():
    hot = {"kind": "earthenware", "cone_low": "2"}
    assert questions.questions(tile(body=hot, cone_reached="3")) == []
    assert len(questions.questions(tile(body=hot, cone_reached="05"))) == 1
