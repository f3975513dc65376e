"""Of a colour shift on a colour under a clear that colour is judged, and the clear for its zinc."""

import pytest

from diagnose.asking import questions
from diagnose.case import weigh_case
from diagnose.fixes.bench import Bench
from diagnose.fixes.steps_coat import thicker
from diagnose.measures.of_area import measures
from diagnose.own_tiles.say import your_tiles_say
from diagnose.own_tiles.twins import twins
from diagnose.report import why
from tiles.records.forms import TileRecord

COLOUR, OTHER = "colour shift", "crawling"
PINK = {"name": "rosa", "kind": "jar", "role": "underglaze", "colour": "pink"}
RED = {"name": "mohn", "kind": "jar", "role": "underglaze", "colour": "red",
       "cone_low": "06", "cone_high": "04"}  # fmt: skip
ZINC = {"name": "zinc clear", "kind": "jar", "role": "glaze", "finish": "clear"}
PLAIN = ZINC | {"name": "studio clear"}


def tile(colour=PINK, clear=ZINC, *, mark="U-1", coats=(1,), failed=(1,), defect=COLOUR, **known):
    """A tile of two coats of a colour with an area for each number of coats of the clear."""
    areas = [
        {"number": at, "layers": [{"glaze": colour, "coats": 2}, {"glaze": clear, "coats": each}]}
        for at, each in enumerate(coats, start=1)
    ]
    seen = [{"defect": defect, "area": each} for each in failed]
    return TileRecord.model_validate(
        {
            "mark": mark,
            "body": {"name": "red clay", "colour": "red"},
            "firing": {"name": "F", "target_cone": "05"},
            "cone_reached": "05",
            "areas": areas,
            "inspections": [{"inspected_on": "2026-01-02", "defects": seen}],
        }
        | known
    )


def values(record, defect=COLOUR):
    return {name: each.value for name, each in measures(record, 1, defect).items()}


def first(record):
    return weigh_case(record, COLOUR).first.name


def test_the_colour_beneath_a_clear_is_judged_and_the_clear_for_what_lies_over():
    found = values(tile())
    assert (found["glaze_colour"], found["coats"], found["coats_above"]) == ("pink", 2, 1)
    assert (found["role"], found["holds_zinc"]) == ("underglaze", "yes")


def test_every_other_fault_and_a_glaze_with_a_colour_of_its_own_are_read_as_before():
    found = values(tile(defect=OTHER), OTHER)
    assert (found["coats"], found["role"]) == (1, "glaze")
    assert not {"coats_above", "holds_zinc", "glaze_colour"} & found.keys()
    honey = values(tile(clear=ZINC | {"name": "honey", "finish": "gloss"}))
    assert honey["coats"] == 1 and "coats_above" not in honey


def test_a_pink_under_a_clear_that_names_zinc_is_bleached_by_it():
    assert first(tile()) == "chrome_tin_base"
    assert first(tile(clear=PLAIN)) != "chrome_tin_base"
    assert first(tile(clear=PLAIN | {"remark": "contains zinc oxide"})) == "chrome_tin_base"


@pytest.mark.parametrize("remark", ["zinc-free", "no zinc", "free of zinc"])
def test_a_label_that_says_free_of_zinc_speaks_against_it(remark):
    assert values(tile(clear=PLAIN | {"remark": remark}))["holds_zinc"] == "no"


def test_what_the_colours_own_label_asks_of_a_clear_is_not_said_of_that_clear():
    pink = PINK | {"remark": "chrome-tin stain; clear must be free of zinc"}
    found = values(tile(pink, PLAIN))
    assert found["holds_chrome_tin"] == "yes" and "holds_zinc" not in found
    assert first(tile(pink)) == "chrome_tin_base"


def test_the_zinc_of_an_own_recipe_over_a_pink_jar_is_read():
    lines = [
        {"material": "soda feldspar", "parts": 50},
        {"material": "whiting", "parts": 20},
        {"material": "quartz", "parts": 20},
        {"material": "zinc oxide", "parts": 10},
    ]
    record = tile(PINK | {"remark": "chrome-tin pink"}, PLAIN | {"kind": "recipe"})
    top = record.areas[0].layers[1].model_dump() | {"recipe": {"lines": lines}}
    layers = [record.areas[0].layers[0].model_dump(), top]
    record = TileRecord.model_validate(
        record.model_dump() | {"areas": [{"number": 1, "layers": layers}]}
    )
    found = values(record)
    assert found["zinc_wt_pct"] > 5 and found["holds_chrome_tin"] == "yes"
    assert first(record) == "chrome_tin_base"


def test_a_cadmium_red_under_a_clear_burns_out_past_its_own_label():
    red = RED | {"remark": "bright red, cadmium inclusion stain"}
    record = tile(red, PLAIN, coats=(1, 2, 3), failed=(1, 2, 3), cone_reached="03")
    found = measures(record, 1, COLOUR)
    assert found["label_sensitive_red"].value == "yes"
    assert "the mohn label says cone 06 to 04" in found["cones_over_label"].said
    assert first(record) == "red_burnt_out"


def test_one_coat_of_clear_that_fails_alone_is_too_little_clear_and_no_thin_colour():
    record = tile(RED, PLAIN, coats=(1, 2, 3))
    case = weigh_case(record, COLOUR)
    assert case.first.name == "clear_too_thin"
    assert case.facts["rises_with_clear"].value == -1 and "rises_with_coat" not in case.facts
    step = thicker(Bench(case.view, "clear_too_thin", case.setting))
    assert step.changes[0].said == "coats 1 -> 2" and step.edit == {"coats": 2}
    step = thicker(Bench(case.view, "coat_too_thin", case.setting))
    assert step.edit == {"colour_coats": 3}


def test_even_of_a_cadmium_red_heat_is_not_blamed_where_two_coats_of_clear_kept_it():
    red = RED | {"remark": "cadmium inclusion stain"}
    assert first(tile(red, PLAIN, coats=(1, 2, 3))) == "clear_too_thin"
    assert first(tile(red, PLAIN, coats=(2,))) != "clear_too_thin"


def test_own_tiles_of_the_colour_tell_by_the_clear_over_it():
    others = [
        *(tile(mark=f"Z-{n}") for n in range(5)),
        *(tile(clear=PLAIN, mark=f"P-{n}", failed=()) for n in range(6)),
        *(tile(RED, mark=f"R-{n}", failed=()) for n in range(6)),
    ]
    told = your_tiles_say(others, tile(), 1, COLOUR)
    assert told.glaze == "rosa" and told.areas == 11
    lesson = next(each for each in told.lessons if each.measure == "above")
    assert (lesson.here_failed, lesson.here_all, lesson.there_failed) == (5, 5, 0)
    assert lesson.sound_on.startswith("another glaze over it: of 6 tiles under studio clear")
    case = weigh_case(tile(), COLOUR)
    assert "chrome_tin_base" in told.causes_of(lesson, case)
    assert "body_shows_through" not in told.causes_of(lesson, case)


def test_the_twin_of_a_colour_is_the_same_colour_under_another_clear():
    others = [tile(clear=PLAIN, mark="P-1", failed=()), tile(RED, mark="R-1", failed=())]
    found = twins(weigh_case(tile(), COLOUR), others)
    assert [each.marks for each in found] == [("P-1",)]
    assert "alike but for what lies over it, studio clear" in found[0].say


def test_nothing_is_asked_of_the_clear_that_would_be_taken_for_the_colour():
    record = tile()
    for layer in record.areas[0].layers:
        layer.coats = None
    asked = {each.name for each in questions(weigh_case(record, COLOUR))}
    assert asked and not {"coats", "thickness_mm", "method", "specific_gravity"} & asked


def test_chromium_in_the_load_blushes_no_pink_or_red():
    white = PLAIN | {"name": "tin white", "finish": "gloss", "colour": "white"}
    shares = []
    for glaze in (white, white | {"name": "rosa", "colour": "pink"}, PLAIN):
        record = tile(clear=glaze, clues={"chrome_in_load": "yes"})
        record.areas[0].layers.pop(0)
        rows = weigh_case(record, COLOUR).rows
        shares.append(next(row.share for row in rows if row.name == "chrome_fume"))
    assert shares[0] > 0.2 and max(shares[1:]) < 0.03


def test_a_red_fired_as_set_but_over_its_label_is_answered_with_that_and_nothing_against_it():
    """Reaching what was set clears no kiln that was set over the label (F: cone 03 on 06 to 04)."""
    hot = {"firing": {"name": "F", "target_cone": "03"}, "cone_reached": "03"}
    (over,) = why(tile(RED, **hot))
    assert over.causes[0].name == "red_burnt_out"
    assert "Reached cone 03, the mohn label says cone 06 to 04." in over.causes[0].for_
    assert over.causes[0].against == []
    (set_only,) = why(tile(RED, firing=hot["firing"], cone_reached=None))
    assert "Set for cone 03, the mohn label says cone 06 to 04." in set_only.causes[0].for_
    within = next(each for each in why(tile(RED))[0].causes if each.name == "red_burnt_out")
    assert within.against[0].startswith("Reached cone 05, the mohn label says cone 06 to 04")
    assert within.share < over.causes[0].share / 2


def test_the_answer_leads_with_what_was_done_and_not_with_what_the_glaze_is():
    jar = RED | {"role": "glaze", "finish": "gloss"}
    layers = [{"number": 1, "layers": [{"glaze": jar, "coats": 4}]}]
    hot = {"firing": {"name": "F", "target_cone": "03"}, "cone_reached": "03", "areas": layers}
    (told,) = why(tile(**hot))
    assert told.enough_to_tell
    assert told.causes[0].for_[0] == "Mohn is red."
    assert told.say.endswith("Reached cone 03, the mohn label says cone 06 to 04.")
