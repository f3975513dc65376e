"""Own tiles alike but for one thing: told and tried first, and no evidence by themselves."""

from datetime import date

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.own_tiles.head_count import OWN_TEST
from diagnose.own_tiles.twins import bearing_on, speaking_against
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OWNED, WHITE, tile
from tests.unit.diagnose.test_tried import looked_at
from tiles.cli import next_text, why_full, why_screen
from tiles.cli.fix_plan import Marked
from tiles.records import forms

FAILED = tile("crawling")


def twin(mark="S-1", defects=(), body=None, looked_at="2024-05-01", **made):
    """The failed tile but for what is named, with these faults."""
    made = {"defect": "crawling", **made}
    found = tile(**made).model_copy(update={"mark": mark})
    look = {"inspected_on": looked_at, "defects": [{"defect": each} for each in defects]}
    found.inspections = [forms.InspectionRecord.model_validate(look)]
    found.body = forms.BodyRecord.model_validate(body) if body else found.body
    return found


def over(name, mark, defects=(), coats=2):
    beneath = {"glaze": {"name": name, "role": "underglaze"}, "coats": coats}
    made = twin(mark, defects)
    made.areas[0].layers.insert(0, forms.LayerRecord.model_validate(beneath))
    return made


def on(put_on, mark, defects=(), **made):
    """The tile over leaf, which was put on raw clay, on bisque, or nobody said on what."""
    made = over("leaf", mark, defects, **made)
    made.areas[0].layers[0].applied_on = put_on
    return made


def told(others, record=FAILED):
    return why(record, None, others)[0]


@pytest.mark.parametrize(
    ("others", "said"),
    [([twin(bisque="04")], ["S-1 is alike but for the bisque cone, 04, and came out clean."]),
     ([twin(coats=2, defects=["crazing"])],
      ["S-1 is alike but for the coats, 2, and has no crawling."]),
     ([twin(body=WHITE), twin("S-2", body=WHITE)],
      ["S-1 and S-2 are alike but for the body, white clay, and came out clean."]),
     ([twin(coats=2, mm=0.4)], ["S-1 is alike but for the coats, 2, and came out clean."]),
     ([twin(coats=2, bisque="04")], []),
     ([twin(bisque=None)], []),
     ([twin(cone=None)], []),
     ([twin(bisque="04"), twin("S-2", ["crawling"], bisque="04")], []),
     ([twin(bisque="04"), twin("S-2")], []),
     ([twin(bisque="04"), twin("S-2"), twin("S-3", ["crawling"])],
      ["S-1 is alike but for the bisque cone, 04, and came out clean."])],
)  # fmt: skip
def test_a_sound_tile_alike_but_for_one_recorded_thing_is_told(others, said):
    assert told(others).twins == said == told(others).as_dict()["twins"]
    screen = " ".join(" ".join(why_screen.lines(FAILED, [told(others)])).split())
    assert not said or screen.count(said[0]) == 1  # under "twins", or as the test that it makes
    assert (" twins " in screen or OWN_TEST in screen) is bool(said)


@pytest.mark.parametrize(("mm", "is_alike"), [(0.45, True), (0.55, True), (0.35, False)])
def test_coats_of_nearly_one_thickness_are_alike(mm, is_alike):
    found = told([twin(bisque="04", mm=mm)], tile("crawling", mm=0.5)).twins
    assert found == ["S-1 is alike but for the bisque cone, 04, and came out clean."] * is_alike


def test_what_is_measured_is_told_with_its_unit():
    said = "S-1 is alike but for the thickness, 0.2 mm, and came out clean."
    assert told([twin(mm=0.2)], tile("crawling", mm=0.5)).twins == [said]


@pytest.mark.parametrize(
    ("answers", "is_told"),
    [({"bisque_wiped": "yes"}, True), ({"bisque_wiped": "no"}, False),
     ({"bisque_wiped": "yes", "raw_coat_cracked": "yes"}, False),
     ({"bisque_wiped": "no", "worst_where_thick": "no"}, False), ({}, False)],
)  # fmt: skip
def test_a_sound_tile_that_was_handled_otherwise_in_one_thing_is_told(answers, is_told):
    own = {"bisque_wiped": "no", "raw_coat_cracked": "no", "worst_where_thick": "yes"}
    failed = FAILED.model_copy(update={"clues": own})
    other = twin()
    other.clues = answers
    found = told([other], failed)
    said = "S-1 is alike but for bisque wiped, yes, and came out clean."
    assert (said in found.twins) is is_told
    beside = {row.name for row in found.causes if said in " ".join(row.your_tiles)}
    assert beside == ({"dirty_bisque"} if is_told else set())


@pytest.mark.parametrize(
    ("other", "said"),
    [(on("greenware", "S-1"),
      ["S-1 is alike but for what the layer beneath was put on, greenware, and came out clean."]),
     (on("bisque", "S-1", coats=1),
      ["S-1 is alike but for the coats under the glaze, 1, and came out clean."]),
     (on("greenware", "S-1", coats=1), []),
     (on(None, "S-1", coats=1), []),
     (over("moss", "S-1"),
      ["S-1 is alike but for what lies under the glaze, moss, and came out clean."])],
)  # fmt: skip
def test_what_the_layer_beneath_was_put_on_is_a_thing_to_differ_in(other, said):
    failed = on("bisque", "T-1", ["crawling"])
    assert told([other], failed).twins == said


def test_several_twins_stand_in_one_sentence():
    screen = why_screen.lines(FAILED, [told([twin(bisque="04"), twin("S-2", coats=2)])])
    said = "No crawling, though alike but for one thing: S-1 (bisque cone 04); S-2 (coats 2)."
    assert said in " ".join(" ".join(screen).split())


@pytest.mark.parametrize(
    ("defect", "made", "other", "against"),
    [("crawling", {"coats": 2}, {"coats": 3}, "the coat was too thick"),
     ("crawling", {"coats": 2}, {"coats": 1}, ""),
     ("crawling", {"coats": 2, "mm": 1.2}, {"coats": 2, "mm": 1.6}, "the coat was too thick"),
     ("underfired", {"coats": 2}, {"coats": 1}, "the coat was too thin"),
     ("pinholes", {"bisque": "06"}, {"bisque": "08"}, "the bisque was too cool")],
    ids=["thicker", "thinner", "in mm", "too thin", "cooler bisque"],
)  # fmt: skip
def test_a_sound_twin_that_went_further_speaks_against_the_cause(defect, made, other, against):
    failed = tile(defect, **made)
    (answer,) = why(failed, None, [twin(defect=defect, **(made | other))])
    assert len(answer.twins) == 1
    found = [row.title for row in answer.case.rows if row.cause
             and speaking_against(answer.case, row.cause)]  # fmt: skip
    assert any(against in each for each in found) if against else found == []
    for told in (why_screen.lines(failed, [answer]), why_full.lines(failed, [answer])):
        is_told = any(f"would speak against: {each}." in _text(told) for each in found)
        assert is_told is bool(against)


THIN_COATS = "S-1 is alike but for the coat, 3 coats of 0.9 mm in all, and came out clean."


@pytest.mark.parametrize(
    ("own", "mm", "bears", "planned"),
    [
        ({"mm": 1.7}, 0.9, True, "dry coat 1.7 -> 0.9 mm"),
        ({"mm": 1.7, "coats": None}, 0.9, True, "dry coat 1.7 -> 0.8 mm"),
        ({"mm": 1.7}, 2.4, False, None),
        ({"mm": 1.7}, 1.65, False, None),
    ],
    ids=["as many coats", "no coats recorded", "thicker", "as thick"],
)
def test_a_sound_twin_that_is_thinner_alone_stands_with_the_cause_and_is_tried_first(
    own, mm, bears, planned
):
    failed, other = tile("crawling", **own), twin(**(own | {"mm": mm}))
    (answer,) = why(failed, None, [other])
    rows = {row.name: row.cause for row in answer.case.rows if row.cause}
    of = [each.marks for each in bearing_on(answer.case, rows["coat_too_thick"])]
    assert of == ([("S-1",)] if bears else [])
    assert bears is bool(fix(failed, others=[other])[0].causes[0].twins)
    tiles = next_tiles(answer, OWNED, others=[other]).tiles
    made_so = [each.trial for each in tiles if each.twin]
    assert [each.change for each in made_so] == ([planned] if planned else [])
    for trial in made_so:  # nobody need measure it again
        fired = looked_at(trial.tile, "N-1")
        (tried,) = why(failed, None, [other, fired])[0].case.tried
        assert tried.moves and tried.change == planned


def test_more_coats_that_are_thinner_in_all_are_a_thinner_coat():
    failed, thin = tile("crawling", coats=2, mm=1.7), twin(coats=3, mm=0.9)
    (answer,) = why(failed, None, [thin])
    assert answer.twins == [THIN_COATS]
    rows = {row.name: row.cause for row in answer.case.rows if row.cause}
    assert not speaking_against(answer.case, rows["coat_too_thick"])
    assert bearing_on(answer.case, rows["coat_too_thick"])
    two = [thin, twin("S-2", coats=3, mm=0.8)]
    said = THIN_COATS.replace("S-1 is", "S-1 and S-2 are").replace("0.9", "0.8 to 0.9")
    assert told(two, failed).twins == [said]


@pytest.mark.parametrize(
    ("mm", "defects", "many"),
    [(2.1, ["crawling"], 1), (0.9, ["crawling"], 0), (None, ["crawling"], 0), (2.1, [], 2)],
)  # fmt: skip
def test_thick_coats_that_failed_take_nothing_from_as_many_thin_ones(mm, defects, many):
    failed = tile("crawling", coats=2, mm=1.7)
    others = [twin(coats=3, mm=0.9), twin("S-2", defects, coats=3, mm=mm)]
    assert len(told(others, failed).twins) == many


def test_as_thick_a_coat_speaks_against_none_however_many_coats_it_was():
    (answer,) = why(tile("crawling", coats=2, mm=1.7), None, [twin(coats=3, mm=1.7)])
    assert answer.twins == ["S-1 is alike but for the coats, 3, and came out clean."]
    causes = [row.cause for row in answer.case.rows if row.cause]
    assert not any(speaking_against(answer.case, each) for each in causes)


def test_of_several_twins_each_says_what_it_speaks_against():
    failed = tile("crawling", coats=2)
    others = [twin(coats=3), twin("S-2", coats=2, bisque="04")]
    told = _text(why_screen.lines(failed, [why(failed, None, others)[0]]))
    assert "S-1 would speak against: the coat was too thick." in told


def _text(lines):
    return " ".join(" ".join(lines).split())


def test_what_lies_under_the_glaze_is_said_without_an_article():
    moss, brick = over("moss", "T-1", ["crawling"]), over("brick", "S-1")
    said = "S-1 is alike but for what lies under the glaze, brick, and came out clean."
    assert told([brick], moss).twins == [said]
    screen = why_screen.lines(moss, [told([brick, twin("S-2")], moss)])
    short = "S-1 (what lies under the glaze: brick); S-2 (what lies under the glaze: bare clay)."
    assert short in " ".join(" ".join(screen).split())


def test_coats_of_what_lies_under_the_glaze_are_one_thing_too():
    thick, thin = over("moss", "T-1", ["crawling"], coats=3), over("moss", "S-1", coats=1)
    said = ["S-1 is alike but for the coats under the glaze, 1, and came out clean."]
    assert told([thin], thick).twins == said
    also_fewer = thin.model_copy(update={"body": forms.BodyRecord.model_validate(WHITE)})
    assert told([also_fewer], thick).twins == []


@pytest.mark.parametrize(
    ("cone", "name", "is_first"), [("05", "bisque_too_cool", True), ("6", "gassy_body", False)]
)
def test_a_twin_is_told_with_the_cause_whose_remedy_it_had(cone, name, is_first):
    soft = tile("pinholes", bisque="06", cone=cone)
    (answer,) = why(soft, None, [twin(defect="pinholes", bisque="04", cone=cone)])
    causes = {each.name: each for each in answer.causes}
    assert causes[name].your_tiles == answer.twins
    assert causes["coat_too_thick"].your_tiles == []
    assert (answer.causes[0].name == name) is is_first
    screen = " ".join(" ".join(why_screen.lines(soft, [answer])).split())
    speaks_for = f"came out clean. That would speak for: {causes[name].title}."
    assert (speaks_for in screen) is not is_first


@pytest.mark.parametrize(
    ("defect", "changed", "said"),
    [("crazing", None, "the clay: is it a new bag or recipe?"), ("crazing", "no", "the clay."),
     ("crawling", None, "the clay.")],
)  # fmt: skip
def test_a_sound_twin_on_another_clay_speaks_for_the_clay(defect, changed, said):
    failed = tile(defect)
    failed.clues.update({"body_changed": changed} if changed else {})
    (answer,) = why(failed, None, [twin(defect=defect, body=WHITE)])
    screen = " ".join(" ".join(why_screen.lines(failed, [answer])).split())
    assert f"came out clean. That would speak for {said}" in screen


@pytest.mark.parametrize(("defect", "many"), [("crawling", 1), ("other", 0)])
def test_a_fault_without_a_word_of_its_own_has_no_twins(defect, many):
    (answer,) = why(tile(defect), None, [twin(defect=defect, body=WHITE)])
    assert len(answer.twins) == many


@pytest.mark.parametrize(
    ("here", "there", "are_twins"),
    [({"cooled_slowly": "no"}, {"cooled_slowly": "yes"}, False),
     ({"cooled_slowly": "no"}, {"cooled_slowly": "no"}, True),
     ({"cooled_slowly": "no"}, {}, True)],
)  # fmt: skip
def test_tiles_with_other_answers_to_a_clue_are_not_alike(here, there, are_twins):
    failed = FAILED.model_copy(update={"clues": here})
    other = twin(cone="04").model_copy(update={"clues": there})
    assert bool(told([other], failed).twins) is are_twins


@pytest.mark.parametrize(
    ("rate_c_per_h", "hold_min", "said"),
    [(120, 10, "T-2 is alike but for the cone reached, 04, and came out clean."),
     (110, 10, "T-2 is alike but for the cone reached, 04, and came out clean."),
     (60, 10, None), (120, 30, None), (None, 10, None)],
)  # fmt: skip
def test_tiles_of_another_bisque_are_alike_where_it_rose_as_fast(rate_c_per_h, hold_min, said):
    def bisque(name, rate, hold):
        values = {"name": name, "kind": "bisque", "rate_c_per_h": rate, "hold_min": hold}
        return forms.FiringRecord.model_validate({k: v for k, v in values.items() if v})

    failed = FAILED.model_copy(update={"bisque_firing": bisque("B1", 120, 10)})
    made = {"bisque_firing": bisque("B2", rate_c_per_h, hold_min)}
    other = twin("T-2", cone="04").model_copy(update=made)
    assert told([other], failed).twins == ([said] if said else [])


def test_a_twin_is_no_evidence_by_itself():
    shares = [[each.share for each in told(of).causes] for of in ([], [twin(bisque="04")])]
    assert shares[0] == pytest.approx(shares[1])


def test_what_may_come_later_counts_as_sound_only_where_it_was_looked_for_as_late():
    fired = forms.FiringRecord(name="F", target_cone="05", fired_on=date(2024, 4, 30))
    crazed = tile("crazing", bisque="06").model_copy(update={"firing": fired})
    crazed.inspections[0].inspected_on = date(2024, 10, 30)
    for day, many in (("2024-05-02", 0), ("2024-11-02", 1)):
        other = twin(defect="crazing", bisque="04", looked_at=day)
        other.firing = fired
        assert len(told([other], crazed).twins) == many


def test_what_a_trial_has_tested_is_left_to_the_trial():
    trial = twin("N-1", bisque="04").model_copy(
        update={"trial_of": "T-1", "trial_defect": "crawling", "trial_change": "hotter bisque"}
    )
    assert told([twin(bisque="04"), trial]).twins == []


def test_a_trial_with_a_change_that_no_field_shows_is_no_twin():
    stirred = "stirred to the bottom: 2 minutes (before: not recorded)"
    trial = twin(bisque="04").model_copy(
        update={"trial_of": "T-9", "trial_defect": "crawling", "trial_change": stirred}
    )
    assert told([trial]).twins == []
    assert len(told([trial], FAILED.model_copy(update={"trial_change": stirred})).twins) == 1


def test_a_clay_of_which_none_is_known_has_no_twin_on_another():
    unnamed = FAILED.model_copy(update={"body": forms.BodyRecord(name="?")})
    assert told([twin(body=WHITE)]).twins and not told([twin(body=WHITE)], unnamed).twins


@pytest.mark.parametrize(
    ("seen", "said"),
    [({"defect": "crawling", "area": 2}, "S-1 area 1 is"),
     ({"defect": "crazing", "area": 2}, "S-1 area 1 is"),
     (None, "S-1 is")],
)  # fmt: skip
def test_a_twin_is_named_by_its_area_where_another_area_of_the_tile_has_a_fault(seen, said):
    other = twin(bisque="04")
    (area,) = other.areas
    beside = [forms.LayerRecord.model_validate({"glaze": {"name": "pond"}, "coats": 1})]
    other.areas = [area, area.model_copy(update={"number": 2, "layers": beside})]
    if seen:
        other.inspections[0].defects = [forms.DefectSeen.model_validate(seen)]
    assert told([other]).twins == [f"{said} alike but for the bisque cone, 04, and came out clean."]


def test_next_proposes_what_a_twin_shows_and_says_so():
    others = [twin(bisque="04")]
    found = next_tiles(told(others), OWNED, others=others)
    first = found.tiles[0]
    assert first.trial.change == "bisque cone 06 -> 04" and first.twin.marks == ("S-1",)
    marked = [Marked(f"N-{n}", "crawling", each) for n, each in enumerate(found.trials)]
    text = " ".join(" ".join(next_text.screen(found, marked, is_planned=False)).split())
    assert "bisque cone 06 -> 04 (as S-1, which came out clean)" in text
    assert next_text.as_dict(found, marked)["tiles"][0]["twins"] == ["S-1"]
    assert all(each.twin is None for each in next_tiles(told([]), OWNED).tiles)
