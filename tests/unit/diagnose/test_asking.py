import math

import pytest

from diagnose.asking import WORTH_ASKING, answered, entropy, questions
from diagnose.asking_fields import FIELDS_OF, read_answer, text
from diagnose.asking_shelf import shelves
from diagnose.case import weigh_case
from diagnose.report import why
from diagnose.rules import Cause
from diagnose.unrecorded import most_telling
from diagnose.vocabulary import effort_of, measure_words
from diagnose.weighing import Weighed
from tiles.errors import TilesError
from tiles.records.forms import TileRecord


def row(share):
    cause = Cause("a", "a", "", {"low_fire": 1, "mid_range": 1}, (), ())
    return Weighed(cause, 0.5, (), (), (), 0.0, share)


def case(defect="crawling", **fields):
    record = {
        "mark": "T-1",
        "body": "red",
        "areas": [{"number": 1, "layers": [{"glaze": "pond green"}]}],
        "inspections": [{"inspected_on": "2025-03-03", "defects": [{"defect": defect}]}],
        **fields,
    }
    return weigh_case(TileRecord.model_validate(record), defect)


def test_entropy_of_four_equal_shares_is_the_logarithm_of_four():
    assert entropy([row(0.25)] * 4) == pytest.approx(math.log(4))
    assert entropy([row(1.0), row(0.0)]) == 0


def test_the_chances_of_all_answers_add_up_to_one_and_gain_is_what_they_take_away():
    for defect in ("crawling", "crazing", "pinholes", "running"):
        asked = case(defect)
        for question in questions(asked):
            chances = [choice.chance for choice in question.choices]
            assert sum(chances) + question.chance_unknown == pytest.approx(1)
            left = sum(choice.chance * entropy(choice.rows) for choice in question.choices)
            left += question.chance_unknown * entropy(asked.rows)
            assert question.gain == pytest.approx(entropy(asked.rows) - left)


def shares_expected(question):
    """The share of each cause after the answer, over the answers by their chances."""
    told = sum(choice.chance for choice in question.choices)
    shares = {}
    for choice in question.choices:
        for each in choice.rows:
            name = each.cause.name if each.cause else "other"
            shares[name] = shares.get(name, 0.0) + choice.chance / told * each.share
    return shares


@pytest.mark.parametrize("defect", ["crazing", "crawling", "pinholes", "shivering"])
def test_the_chance_of_an_answer_follows_from_the_share_of_the_cause_it_speaks_for(defect):
    """What is expected after an answer is what is held now (law of total probability), nearly:
    a figure stands for a range of answers, a "no" that counts nowhere is not weighed, and what a
    fact does in general is no part of how likely an answer is."""
    asked = case(defect)
    small = {row.cause.name: row.share for row in asked.rows if row.cause and row.share < 0.05}
    assert small
    for question in questions(asked):
        expected = shares_expected(question)
        for name, share in small.items():
            assert expected[name] <= share + 0.07, (question.name, name)


def over(put_on=None, role="underglaze"):
    beneath = {"glaze": {"name": "leaf", "role": role}, "coats": 3, "applied_on": put_on}
    return [{"number": 1, "layers": [beneath, {"glaze": "pond green", "applied_on": "bisque"}]}]


@pytest.mark.parametrize(
    ("areas", "is_asked"),
    [(over(), True), (over("bisque"), False), (over(role="glaze"), False),
     ([{"number": 1, "layers": [{"glaze": "pond green"}]}], False)],
)  # fmt: skip
def test_what_a_colour_beneath_was_put_on_is_asked_and_its_answer_goes_to_that_colour(
    areas, is_asked
):
    asked = case(areas=areas)
    found = {each.name: each for each in questions(asked)}.get("colour_applied_on")
    assert bool(found) is is_asked
    if not is_asked:
        return
    assert found.gain >= WORTH_ASKING
    assert [each.value for each in found.choices] == ["greenware", "bisque"]
    beneath, top = answered(asked, found.name, "greenware").areas[0].layers
    assert (beneath.applied_on, top.applied_on) == ("greenware", "bisque")
    fired_on, loose = (
        {each.name: each.share for each in choice.rows}["colour_beneath"]
        for choice in found.choices
    )
    now = {each.name: each.share for each in asked.rows}["colour_beneath"]
    assert fired_on < now < loose


def test_a_look_alike_that_is_unlikely_is_not_asked_for_early():
    asked = questions(case("crazing"))
    names = [question.name for question in asked]
    through = asked[names.index("crack_through_wall")]
    yes = next(choice for choice in through.choices if choice.value == "yes")
    shares = {row.cause.name: row.share for row in case("crazing").rows if row.cause}
    assert yes.chance < 2 * shares["dunt_misnamed"]
    assert names.index("crack_through_wall") > 3


@pytest.mark.parametrize("defect", ["crawling", "blisters", "cloudiness"])
def test_questions_alike_in_effort_come_in_the_order_of_what_they_tell(defect):
    worth = [each for each in questions(case(defect)) if each.gain >= WORTH_ASKING]
    for effort in (0, 1):
        gains = [each.gain for each in worth if effort_of(each.name) == effort]
        assert gains
        assert gains == sorted(gains, reverse=True)


@pytest.mark.parametrize("defect", ["crawling", "blisters", "cloudiness"])
def test_no_piece_is_to_be_broken_while_another_question_is_open(defect):
    worth = [each for each in questions(case(defect)) if each.gain >= WORTH_ASKING]
    efforts = [effort_of(each.name) for each in worth]
    assert efforts == sorted(efforts)
    assert 1 in efforts
    told = most_telling(case(defect).rows, case(defect).facts, how_many=3)
    assert not any(map(effort_of, told))


def test_what_can_be_seen_on_the_piece_is_known_more_often_than_what_must_be_remembered():
    asked = {each.name: each for each in questions(case())}
    assert asked["worst_where_thick"].chance_unknown < asked["raw_coat_cracked"].chance_unknown
    refired = {each.name: each for each in questions(case("underfired"))}["glossy_after_refire"]
    assert refired.chance_unknown > 0.5


@pytest.mark.parametrize(("note", "is_asked"), [(None, True), ("black smeared", False)])
def test_of_a_fault_that_is_told_in_words_nothing_is_asked_against_them(note, is_asked):
    seen = {"defect": "other", "note": note}
    told = case("other", inspections=[{"inspected_on": "2025-03-03", "defects": [seen]}])
    plain = {"stuck_to_shelf", "bare_edges_thin", "crack_edges_rounded"}
    assert plain.isdisjoint(each.name for each in questions(told)) is not is_asked
    assert plain.isdisjoint(most_telling(told.rows, told.facts, how_many=99)) is not is_asked


def test_what_is_recorded_or_was_asked_is_not_asked_again():
    first = questions(case())[0].name
    assert first not in [each.name for each in questions(case(), {first})]
    known = case(clues={"bisque_greasy": "no"}, bisque_cone="04")
    names = [each.name for each in questions(known)]
    assert "bisque_greasy" not in names
    assert "bisque_cone" not in names


def test_the_coat_before_the_firing_is_asked_last_and_not_after_the_fired_one():
    asked = {each.name: each for each in questions(case())}
    assert asked["thickness_mm"].chance_unknown > asked["fired_thickness_mm"].chance_unknown
    assert asked["thickness_mm"].gain < asked["fired_thickness_mm"].gain
    assert asked["thickness_mm"].gain < asked["worst_where_thick"].gain
    left = [each.name for each in questions(case(), {"fired_thickness_mm"})]
    assert "thickness_mm" not in left


def test_numbers_are_asked_for_in_their_unit():
    names = [each.name for each in questions(case())]
    assert "coats" in names
    assert "fired_thickness_mm" in names
    assert "in mm" in text("fired_thickness_mm")


@pytest.mark.parametrize(("method", "is_asked"), [("dip", False), ("pour", False), ("brush", True)])
def test_coats_are_not_asked_of_a_tile_that_was_dipped_or_poured(method, is_asked):
    layers = [{"glaze": "pond green", "method": method}]
    names = [each.name for each in questions(case(areas=[{"number": 1, "layers": layers}]))]
    assert ("coats" in names) == is_asked
    assert "fired_thickness_mm" in names


def test_a_sure_case_leaves_less_to_ask_than_an_open_one():
    layer = {"glaze": "pond green", "thickness_mm": 1.8}
    sure = case(areas=[{"number": 1, "layers": [layer]}], clues={"worst_where_thick": "yes"})
    assert questions(sure)[0].gain < questions(case())[0].gain


@pytest.mark.parametrize(
    ("name", "typed", "value"),
    [
        ("bisque_dusty", "Y", "yes"),
        ("thickness_mm", "1.5", 1.5),
        ("thickness_mm", "1.5 mm", 1.5),
        ("thickness_mm", "1/16 inch", 1.59),
        ("opened_c", "480 F", 249),
        ("opened_c", "200", 200),
        ("hold_min", "half an hour", 30),
        ("hold_min", "0", 0),
        ("coats", "three", 3),
        ("rate_c_per_h", "100", 100),
        ("rate_c_per_h", "270 F per hour", 150),
        ("cone_reached", "05", "05"),
        ("method", "brushed", "brush"),
        ("revived", "no", False),
        ("absorption_pct", "12.5 %", 12.5),
        ("absorption_pct", "12,5%", 12.5),
        ("thickness_mm", "0,9 mm", 0.9),
        ("hold_min", "7,5 min", 7.5),
        ("specific_gravity", "1,45", 1.45),
    ],
)
def test_an_answer_is_read_in_the_units_people_use(name, typed, value):
    assert read_answer(name, typed) == value


@pytest.mark.parametrize(
    ("name", "typed"),
    [
        ("bisque_dusty", "perhaps"),
        ("thickness_mm", "thick"),
        ("coats", "2.5"),
        ("cone_reached", "hot"),
        ("absorption_pct", "little"),
        ("absorption_pct", "nan"),
        ("absorption_pct", "120 %"),
        ("specific_gravity", "145"),
        ("specific_gravity", "1,450"),
        ("hold_min", "1,200 min"),
        ("coats", "0"),
        ("thickness_mm", "80"),
        ("opened_c", "1888"),
    ],
)
def test_what_is_no_answer_is_refused_with_a_remedy(name, typed):
    with pytest.raises(TilesError) as caught:
        read_answer(name, typed)
    assert caught.value.hint


def test_every_measure_that_can_be_asked_for_is_one_of_the_rule_base():
    assert set(FIELDS_OF) - {"beneath"} <= set(measure_words())
    for names in FIELDS_OF.values():
        for name in names:
            assert text(name).endswith("?")


def asked(of, others=()):
    return {each.name: each for each in questions(of, others=others)}


def test_how_a_glaze_was_put_on_is_asked_where_its_coats_turn_on_it():
    """Three coats brushed are usual, three dips are thick (common practice, no source)."""
    coats = [{"number": 1, "layers": [{"glaze": "pond green", "coats": 3}]}]
    found = asked(case("cloudiness", areas=coats))["method"]
    share = {each.value: _of("coat_too_thick", each.rows) for each in found.choices}
    assert share["dip"] > 1.5 * share["brush"]
    assert found.gain > WORTH_ASKING
    assert "method" not in asked(case("cloudiness"))
    coats[0]["layers"][0]["method"] = "dip"
    assert "method" not in asked(case("cloudiness", areas=coats))


UNEVEN = {
    "name": "F1", "kiln": "K", "target_cone": "05",
    "witness_cones": [{"cone": "05", "shelf": "top"}, {"cone": "07", "shelf": "Bottom"}],
}  # fmt: skip


def test_the_shelf_is_asked_where_the_firing_was_read_by_shelf():
    found = asked(case("underfired", firing=UNEVEN))["shelf"]
    assert found.text == "On which shelf or place in the kiln did it stand: top or Bottom?"
    share = {each.value: _of("cold_shelf", each.rows) for each in found.choices}
    assert share["Bottom"] > share["top"]
    assert found.gain > WORTH_ASKING
    assert "shelf" not in asked(case("underfired", firing=UNEVEN, shelf="top"))
    assert "shelf" not in asked(case("underfired", firing={**UNEVEN, "witness_cones": []}))


def test_the_shelf_is_asked_where_own_tiles_fail_on_one_of_them():
    others = [case("underfired", mark=f"B-{n}", shelf="bottom").record for n in range(6)]
    sound = [case("crazing", mark=f"S-{n}", shelf="top").record for n in range(6)]
    (told, *_) = why(case("underfired").record, "underfired", [*others, *sound])
    assert asked(told.case, [*others, *sound])["shelf"].gain > WORTH_ASKING
    assert "shelf" not in asked(told.case, others)
    elsewhere = case("underfired", firing={"name": "F2", "kiln": "another"})
    assert "shelf" not in asked(elsewhere, [*others, *sound])


def test_a_shelf_is_answered_by_its_name_in_any_letters():
    assert read_answer("shelf", "bottom", ["top", "Bottom"]) == "Bottom"
    with pytest.raises(TilesError, match="not a known shelf"):
        read_answer("shelf", "lid", ["top", "Bottom"])


def _of(name, rows):
    return next(each.share for each in rows if each.name == name)


def test_shelves_read_in_the_firing_come_before_those_used_most_and_each_once():
    read = [{"cone": "05", "shelf": name} for name in ("top", "attic")]
    firing = {"name": "F1", "kiln": "big", "witness_cones": read}
    asked = case(firing=firing).record
    used = ("low", "low", "low", "Attic", "Attic", "middle", "TOP")
    others = [
        case(mark=f"U-{n}", shelf=shelf, firing={"name": "F0", "kiln": "big"}).record
        for n, shelf in enumerate(used)
    ]
    assert shelves(asked, others) == ["top", "attic", "low", "middle"]
