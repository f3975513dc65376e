"""A jar that is dry at its own label's cone in every firing, while others beside it melted."""

import pytest

from diagnose.case import weigh_case
from diagnose.comparing.over_tiles import over_tiles
from diagnose.fixes.of_tile import fix
from diagnose.measures.of_area import measures
from diagnose.own_tiles.glaze import as_glaze_did
from diagnose.own_tiles.say import joined, your_tiles_say
from diagnose.report import why
from diagnose.rules import load
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.fix_text import screen
from tiles.records import forms

NIGHT = {"name": "night", "kind": "jar", "cone_low": "05", "cone_high": "05"}
LEAF = NIGHT | {"name": "leaf"}
WRONG, THIN = "wrong_jar", "coat_too_thin"
ITS_RECIPE = ("refractory_recipe", "wash_without_flux")


def fired(number, firing="F1", glaze=NIGHT, coats=(3,), dry=True, cone="05", **more):
    """A tile with an area for each number of coats, dry on all of them or on none."""
    areas = [
        {"number": at, "layers": [{"glaze": glaze, "coats": each}]}
        for at, each in enumerate(coats, 1)
    ]
    seen = [{"defect": "underfired", "area": each["number"]} for each in areas if dry]
    looks = [{"inspected_on": "2024-05-01", "defects": seen}]
    firing = {"name": firing, "target_cone": "05"} if isinstance(firing, str) else firing
    in_kiln = {"firing": firing, "cone_reached": cone}
    return tile(number, areas=areas, inspections=looks, **(in_kiln | more))


FAILED = fired(1)
SAME_JAR = [fired(10 + n, f"F{n}", coats=(2,), body="white clay") for n in range(2, 6)]
BESIDE = [fired(30 + n, f"F{1 + n % 5}", LEAF, dry=False) for n in range(10)]

DRY_JAR = [*SAME_JAR, *(fired(20 + n, "F2", coats=(1, 2, 3)) for n in range(2))]


def said(records, record=FAILED):
    return your_tiles_say(records, record, 1, "underfired")


def of_jar(told):
    return [each for each in told.lessons if each.measure == "jar"]


def row_of(case, name):
    return next(row for row in case.rows if row.name == name)


def test_all_of_a_jar_dry_while_others_in_its_firings_melted_speaks_for_a_wrong_label():
    told = said([*SAME_JAR, *BESIDE, FAILED])
    (lesson,) = of_jar(told)
    counts = (lesson.here_failed, lesson.here_all, lesson.there_failed, lesson.there_all)
    assert counts == (4, 4, 0, 10)
    assert "of 10 tiles with other glazes in the same firings none came out underfired" in (
        lesson.say
    )
    case = joined(weigh_case(FAILED, "underfired"), told)
    assert row_of(case, WRONG).own == lesson.lift > 1
    assert {row.name for row in case.rows if row.own} == {WRONG, *ITS_RECIPE}
    (answer,) = why(FAILED, others=[*SAME_JAR, *BESIDE])
    assert WRONG in [each.name for each in answer.causes[:2]]


@pytest.mark.parametrize(
    "records",
    [
        [*SAME_JAR[:1], *BESIDE],  # too few of the jar
        [*SAME_JAR, *BESIDE[:2]],  # too few beside it
        [*[fired(20 + n) for n in range(4)], *BESIDE],  # one firing alone
        [*SAME_JAR, *[fired(30 + n, f"F{1 + n % 5}", LEAF) for n in range(10)]],  # all were dry
        [*SAME_JAR[:3], fired(50, "F2", dry=False), *BESIDE],  # one of the jar melted
        [fired(20 + n, f"F{n}", cone="07") for n in range(2, 6)] + BESIDE,  # short of its label
    ],
    ids=["few", "few beside", "one firing", "cold kiln", "melted once", "short of its label"],
)
def test_nothing_is_said_of_the_label_where_something_else_explains_it(records):
    assert of_jar(said(records)) == []


def test_faults_of_a_few_others_in_its_firings_do_not_hide_the_jar():
    some = [fired(30 + n, f"F{1 + n % 5}", LEAF, dry=n < 2) for n in range(10)]
    assert of_jar(said([*SAME_JAR, *some]))
    more = [fired(30 + n, f"F{1 + n % 5}", LEAF, dry=n < 4) for n in range(10)]
    assert of_jar(said([*SAME_JAR, *more])) == []


def test_a_jar_without_a_cone_on_its_label_and_another_fault_tell_nothing():
    bare = {"name": "night", "kind": "jar"}
    same = [fired(10 + n, f"F{n}", bare) for n in range(2, 6)]
    assert of_jar(said([*same, *BESIDE], fired(1, glaze=bare))) == []
    assert of_jar(your_tiles_say([*SAME_JAR, *BESIDE], FAILED, 1, "crawling")) == []


def test_that_another_jar_may_have_been_taken_counts():
    answers = {
        answer: row_of(
            weigh_case(fired(1, clues={"wrong_jar_possible": answer}), "underfired"), WRONG
        ).share
        for answer in ("yes", "no")
    }
    assert answers["yes"] > 0.2 > 10 * answers["no"]


def test_no_low_fire_clay_is_sent_to_the_hotter_cone():
    (cause,) = [each for each in load("underfired").causes if each.name == WRONG]
    texts = [each.say for each in (*cause.confirm, *cause.fixes)]
    hotter = [each for each in texts if "cone 5," in each]
    assert hotter
    assert all("clay made for cone 5" in each for each in hotter)
    assert all("Never low-fire clay" in each for each in hotter)


def test_three_coats_that_are_dry_as_well_speak_against_a_thin_coat():
    grid, alone = fired(1, coats=(1, 2, 3)), fired(2, coats=(1,))
    fact = measures(grid, 1, "underfired")["usual_coat_fails_too"]
    assert fact.said == "area 3 with 3 coats has it too"
    assert "usual_coat_fails_too" not in measures(grid, 3, "underfired")
    assert "usual_coat_fails_too" not in measures(alone, 1, "underfired")
    looks = [
        {
            "inspected_on": "2024-05-01",
            "defects": [
                {"defect": "underfired", "area": 1, "severity": "severe"},
                {"defect": "underfired", "area": 3, "severity": "slight"},
            ],
        }
    ]
    worst_thin = grid.model_copy(
        update={"inspections": [forms.InspectionRecord.model_validate(each) for each in looks]}
    )
    shares = [row_of(weigh_case(each, "underfired"), THIN).share for each in (alone, worst_thin)]
    assert shares[0] > 2 * shares[1]


def facts_of(record, others, name):
    return as_glaze_did(weigh_case(record, "underfired"), others).facts.get(name)


def share_of(record, others, name):
    return row_of(as_glaze_did(weigh_case(record, "underfired"), others), name)


def test_a_sound_tile_of_the_jar_at_this_cone_speaks_strongly_against_its_label():
    sound = [fired(20 + n, dry=False) for n in range(2)]
    before, one, two = (share_of(FAILED, sound[:n], WRONG).share for n in range(3))
    assert before > 3 * one > 6 * two
    assert share_of(FAILED, sound, WRONG).is_ruled_out
    said_of_both = facts_of(FAILED, sound, "sound_from_jar").said
    assert said_of_both == "T-20 and T-21 of the same jar, fired no hotter, came out without it"
    assert share_of(fired(1, clues={"wrong_jar_possible": "yes"}), sound, WRONG).opposition == 0
    (answer,) = why(FAILED, others=sound)
    assert next(each for each in answer.causes if each.name == WRONG).is_ruled_out


def sound_on_one_area(number):
    record = fired(number, coats=(2, 3))
    record.inspections[0].defects.pop()
    return record


@pytest.mark.parametrize(
    "other",
    [
        fired(20, cone="03", dry=False),
        fired(20, glaze=LEAF, dry=False),
        fired(20),
        sound_on_one_area(20),
        FAILED.model_copy(update={"mark": FAILED.mark.lower()}),
    ],
    ids=["hotter", "another glaze", "dry too", "dry on one area", "the tile itself"],
)
def test_what_is_no_sound_tile_of_the_jar_at_this_cone_says_nothing_of_its_label(other):
    assert facts_of(FAILED, [other], "sound_from_jar") is None


def test_a_sound_tile_with_another_glaze_under_it_says_nothing_of_the_jar():
    layered = fired(20, dry=False)
    layered.areas[0].layers.insert(0, fired(21, glaze=LEAF).areas[0].layers[0])
    assert facts_of(FAILED, [layered], "sound_from_jar") is None


def test_a_sound_tile_of_another_batch_says_nothing_of_the_jar():
    def of(number, batch, **more):
        record = fired(number, **more)
        layers = [record.areas[0].layers[0].model_copy(update={"batch": batch})]
        areas = [record.areas[0].model_copy(update={"layers": layers})]
        return record.model_copy(update={"areas": areas})

    one, other = (forms.BatchRecord(name=name) for name in ("A", "B"))
    failed, sound = of(1, one), of(2, other, dry=False)
    assert facts_of(failed, [sound], "sound_from_jar") is None
    assert facts_of(failed, [of(2, one, dry=False)], "sound_from_jar").value == 1


def test_the_usual_coat_dry_on_other_tiles_as_well_speaks_against_a_thin_one():
    thin = fired(1, coats=(1,))
    usual = [fired(20 + n, coats=(3,)) for n in range(2)]
    assert share_of(thin, [], THIN).share > 4 * share_of(thin, usual, THIN).share
    assert facts_of(thin, usual[:1], "usual_coat_fails_too") is None
    assert facts_of(thin, [*usual, fired(30, dry=False)], "usual_coat_fails_too") is None
    assert facts_of(FAILED, [FAILED, usual[0]], "usual_coat_fails_too") is None, "not itself"
    cooler = [fired(20 + n, coats=(3,), cone="07") for n in range(2)]
    assert facts_of(thin, cooler, "usual_coat_fails_too") is None


def test_too_cool_a_firing_is_not_why_where_all_at_the_cone_of_the_label_are_dry_as_well():
    cool = fired(1, coats=(2,), cone="06")
    cool.firing.target_cone = "06"
    bare = share_of(cool, [], "below_its_range").share
    assert bare > 3 * share_of(cool, SAME_JAR, "below_its_range").share
    assert facts_of(cool, SAME_JAR[:2], "label_cone_fails_too") is None
    assert of_jar(said([*SAME_JAR, *BESIDE], cool))


def in_box(number):
    """A tile of the jar as an old sheet tells of it: at its label's cone, no target on record."""
    return fired(number, firing={"name": f"box {number}"})


def on_cold_shelf(number):
    """A tile of the jar that fell a cone short, within its label, where the top did not."""
    read = [{"shelf": "top", "cone": "05"}, {"shelf": "low", "cone": "06"}]
    firing = {"name": f"F{number}", "target_cone": "05", "witness_cones": read}
    wide = NIGHT | {"cone_low": "06"}
    return fired(number, firing, wide, shelf="low", cone=None)


@pytest.mark.parametrize("made", [in_box, on_cold_shelf])
def test_where_other_glazes_melted_beside_a_jar_no_firing_leads_the_causes(made):
    wide = [fired(20 + n, f"F{n}", NIGHT | {"cone_low": "06"}) for n in range(5)]
    records = [*wide, *(made(n) for n in range(1, 5))]
    beside = [
        fired(30 + n, each.firing, LEAF, dry=False, shelf=each.shelf)
        for n, each in enumerate(records)
    ]
    told = over_tiles(records, "night", "underfired", beside)
    assert told.of_jar.endswith("look at the glaze itself, not the kiln.")
    assert told.causes[0].first_on == len(records)
    assert told.causes[0].title == share_of(FAILED, [], WRONG).cause.title


@pytest.mark.parametrize(
    ("jar", "beside", "words"),
    [
        (None, "top", "in the same firings none"),
        ("low", " Low", "on the same shelves of the same firings none"),
        ("low", "top", ""),
        ("low", None, ""),
    ],
    ids=["not on record", "same shelf", "another shelf", "theirs not on record"],
)
def test_a_cold_shelf_is_not_acquitted_by_what_melted_on_another(jar, beside, words):
    dry = [fired(1, shelf=jar), *(fired(10 + n, f"F{n}", shelf=jar) for n in range(2, 6))]
    other = [fired(30 + n, f"F{1 + n % 5}", LEAF, dry=False, shelf=beside) for n in range(10)]
    told = over_tiles(dry, "night", "underfired", other)
    assert words in told.of_jar
    assert bool(told.of_jar) == bool(words) == bool(of_jar(said([*dry[1:], *other], dry[0])))


def test_a_shelf_that_leads_by_its_own_cone_is_not_sent_away_by_glazes_that_melt_at_less():
    read = [{"shelf": "top", "cone": "05"}, {"shelf": "low", "cone": "06"}]
    wide = NIGHT | {"cone_low": "06"}
    records, beside = [], []
    for n in range(1, 5):
        firing = {"name": f"F{n}", "target_cone": "05", "witness_cones": read}
        on_low = {"firing": firing, "shelf": "low", "cone": "06"}
        records.append(fired(n, glaze=wide, **on_low))
        beside += [fired(10 * n + k, glaze=LEAF, dry=k == n == 1, **on_low) for k in range(3)]
    told = over_tiles(records, "night", "underfired", beside)
    assert told.causes[0].title.startswith("one shelf or place of the kiln is colder")
    assert told.of_jar.endswith("firings 1 came out underfired.")


def test_a_shelf_that_is_on_record_of_a_part_of_the_jar_alone_is_told_so():
    records = [fired(10 + n, f"F{n}", shelf="low" if n < 4 else None) for n in range(2, 6)]
    (lesson,) = of_jar(said([*records, *BESIDE]))
    assert "in the same firings, where a shelf is on record on the same one, none" in lesson.say


def test_without_a_target_a_cone_within_the_label_speaks_against_a_kiln_that_fell_short():
    with_reading, without = (fired(1, firing={"name": "box"}, cone=each) for each in ("05", None))
    shares = [share_of(each, [], "kiln_short").share for each in (without, with_reading)]
    assert shares[0] > 2 * shares[1]


def test_over_all_tiles_of_a_glaze_that_is_always_dry_the_jar_leads_and_not_the_coat():
    told = over_tiles(DRY_JAR, "night", "underfired", BESIDE)
    assert told.causes[0].title == row_of(weigh_case(FAILED, "underfired"), WRONG).cause.title
    assert told.causes[0].first_on == 6
    assert "It came alike over 1 to 3 coats, 2 clays and 4 firings. Of 8 tiles" in told.say
    assert told.say.endswith("none came out underfired: look at the glaze itself, not the kiln.")
    dry_too = [fired(30 + n, f"F{2 + n % 4}", LEAF) for n in range(10)]
    alone, cold = (over_tiles(DRY_JAR, "night", "underfired", of) for of in ((), dry_too))
    assert alone.of_jar == cold.of_jar == ""
    assert alone.causes == cold.causes != told.causes


@pytest.mark.parametrize("cause", [each.name for each in load("underfired").causes])
def test_whatever_the_cause_a_dry_face_is_kept_from_food(cause):
    (found,) = [each for each in load("underfired").causes if each.name == cause]
    assert any("food" in each for each in found.cautions)


def test_a_dry_barium_glaze_that_is_called_matt_is_kept_from_food():
    lines = [{"material": "Barium carbonate", "parts": 20}, {"material": "Silica", "parts": 80}]
    layer = {
        "glaze": {"name": "sea matt", "kind": "recipe", "finish": "matt"},
        "coats": 3,
        "recipe": {"lines": lines},
    }
    record = tile(
        9,
        areas=[{"number": 1, "layers": [layer]}],
        defects=["underfired"],
        cone_reached="05",
        clues={"smooth_dull": "yes"},
    )
    (answer,) = why(record)
    assert answer.causes[0].name == "matt_by_design"
    assert not answer.is_fault
    assert any("keep such ware from food" in each for each in answer.causes[0].cautions)
    assert any("barium" in each for each in answer.handling)
    (mend,) = fix(record)
    assert mend.causes == []
    assert mend.cautions == answer.causes[0].cautions
    told = " ".join(" ".join(screen(record, [mend], [], is_planned=False)).split())
    assert "keep such ware from food" in told
