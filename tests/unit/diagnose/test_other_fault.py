"""A fault without a word of its own: its notes are read, and a lid is asked of a vessel only."""

import pytest

from diagnose.asking import questions
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import COOLING
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tiles.cli.why_screen import lines as screen
from tiles.records import forms

COOLED, THIN = "no_time_for_crystals", "coat_too_thin"
GLOSS = {COOLED, "overfired"}
LID = "Was the lid fired in place on its pot?"


def tile(note=None, form=None, finish="matt", reached="7", clues=None, others=(), **fields):
    jar = {"name": "barn", "kind": "jar", "role": "glaze", "finish": finish, "cone_low": "5",
           "cone_high": "6"}  # fmt: skip
    values = {
        "mark": "O-1", "body": "peat", "form": form, "cone_reached": reached,
        "clues": clues or {},
        "firing": {"name": "F1", "target_cone": "6"},
        "areas": [{"number": 1, "layers": [{"glaze": jar, "coats": 2}]}],
        "inspections": [
            {"inspected_on": "2025-03-03", "defects": [{"defect": "other", "note": note}]}
        ],
    } | fields  # fmt: skip
    return why(forms.read(forms.TileRecord, values), others=others)[0]


@pytest.mark.parametrize(
    "note",
    [
        "went glossy, should be matt",
        "shiny instead of matt",
        "from matt to glossy",
        "all shiny",
        "matt turned to gloss",
    ],
)
def test_a_matt_that_went_glossy_was_fired_too_hot(note):
    found = tile(note)
    assert found.enough_to_tell
    assert found.causes[0].name == "overfired"
    assert any(each.startswith("From your note") for each in found.causes[0].for_)


@pytest.mark.parametrize("finish", [None, "satin"])
@pytest.mark.parametrize("note", ["matt instead of glossy", "was glossy, now it is dull"])
def test_a_gloss_that_went_matt_is_not_read_backwards(note, finish):
    told = tile(note, finish=finish)
    assert not any("From your note" in each for cause in told.causes for each in cause.for_)
    assert share_of("overfired", told) == share_of("overfired", tile(finish=finish))


@pytest.mark.parametrize("note", ["a drip stuck to the shelf; glaze is shiny", "all shiny"])
def test_a_glaze_that_is_shiny_has_changed_only_where_it_was_meant_to_be_dull(note):
    told = tile(note, finish=None)
    assert share_of("overfired", told) <= share_of("overfired", tile(finish=None))


def share_of(name, told):
    return next(each.share for each in told.causes if each.name == name)


def test_a_gloss_that_is_glossy_or_a_matt_without_a_note_is_not_blamed_on_the_kiln():
    assert not tile("came out glossy", finish="gloss").enough_to_tell
    assert not tile().enough_to_tell


@pytest.mark.parametrize(("form", "is_asked"), [(None, False), ("flat", False), ("vessel", True)])
def test_a_lid_is_asked_of_a_vessel_only(form, is_asked):
    found = tile(form=form)
    lid = next(each for each in found.causes if each.name == "lid_seat_glazed")
    assert (LID in lid.not_recorded) is is_asked
    assert form == "vessel" or LID not in found.say
    assert found.causes[1].name != "lid_seat_glazed"
    told = tile(form=form, clues={"lid_fired_in_place": "yes"})
    (counts,) = [each for each in told.causes if each.name == "lid_seat_glazed"]
    assert counts.for_[0] == "The lid was fired in place on its pot."  # of whatever tile it is told


@pytest.mark.parametrize("note", ["glossy", "shiny", "no longer matt", "came out glossy, not matt"])
def test_a_matt_that_got_its_heat_and_no_more_was_cooled_too_fast(note):
    """Many matts need slow cooling, about 1000 to 800 C (common practice, no source)."""
    found = tile(note, reached="6")
    assert found.causes[0].name == COOLED
    too_hot = next(each for each in found.causes if each.name == "overfired")
    assert too_hot.is_ruled_out
    assert not too_hot.fixes
    told = tile(note, reached="6", clues={"cooled_slowly": "no"})
    assert told.enough_to_tell
    assert told.causes[0].name == COOLED
    assert share_of(COOLED, told) > share_of(COOLED, found)


def test_slow_cooling_rules_out_that_it_cooled_too_fast():
    found = tile("came out glossy", reached="6", clues={"cooled_slowly": "yes"})
    assert not found.enough_to_tell
    assert share_of(COOLED, found) < 0.25


@pytest.mark.parametrize("clues", [{}, {"cooled_fast": "yes"}])
def test_a_matt_fired_past_its_label_was_fired_too_hot_however_the_kiln_was_set(clues):
    set_for_it = {"name": "F1", "target_cone": "7"}
    found = tile("came out glossy", clues=clues, firing=set_for_it)
    assert found.causes[0].name == "overfired"


def test_a_matt_of_much_alumina_is_less_likely_one_of_crystals_than_one_of_magnesia():
    shares = [
        share_of(COOLED, tile("glossy", reached="6", areas=[coat(recipe)]))
        for recipe in (
            {"nepheline syenite": 45, "kaolin": 45, "whiting": 10},
            {"nepheline syenite": 45, "talc": 20, "silica": 20, "whiting": 15},
        )
    ]
    assert shares[0] < shares[1] - 0.1


def coat(recipe):
    glaze = {"name": "own", "kind": "recipe", "role": "glaze", "finish": "matt"}
    lines = [{"material": name, "parts": parts} for name, parts in recipe.items()]
    return {"number": 1, "layers": [{"glaze": glaze, "recipe": {"lines": lines}}]}


@pytest.mark.parametrize(
    ("note", "left"),
    [
        ("glossy", GLOSS),
        ("a crack across the foot", {"drying_crack"}),
        ("it is stuck", {"lid_seat_glazed", "stuck_to_shelf"}),
        ("a bald patch", {"missed_glaze"}),
        ("scratches", {"soft_glaze_scratched"}),
        ("a chip popped off", {"lime_grains"}),
        ("patchy, brush marks", {THIN}),
        ("the brush strokes show", {THIN}),
        ("sharp points underneath from the stilt", {"stilt_points"}),
        ("stilt marks", {"stilt_points"}),
        ("exploded", {"damp_ware"}),
        ("blew up", {"damp_ware"}),
        ("a child dropped it", {"knocked"}),
        ("black smeared", {"colour_dragged"}),
        ("glossy, and stuck to the stilt", GLOSS | {"lid_seat_glazed", "stuck_to_shelf"}),
    ],
)
def test_the_words_for_the_fault_decide_which_causes_are_in_question(note, left):
    found = tile(note, reached=None, form="vessel")
    in_question = {each.name for each in found.causes if not each.is_ruled_out} - {"other"}
    assert in_question == left
    for each in found.causes:
        assert each.name in left or not each.not_recorded


@pytest.mark.parametrize(
    ("note", "cause", "told"),
    [
        ("sharp points underneath from the stilt", "stilt_points", "grind them wet with eye"),
        ("exploded, washed that morning", "damp_ware", "Dry ware before every firing."),
        ("blew up in the kiln", "damp_ware", "Dry ware before every firing."),
        ("a child dropped it", "knocked", "Not a fault: it was dropped or knocked"),
    ],
)
def test_what_is_no_fault_of_the_glaze_is_answered_at_once_with_its_caution(note, cause, told):
    """Points cut, damp ware bursts, a knock breaks sound ware (common practice, no source)."""
    found = tile(note, reached=None)
    assert found.enough_to_tell
    assert found.causes[0].name == cause
    assert told in " ".join(" ".join(screen(found.case.record, [found])).split())


def test_a_colour_dragged_by_the_brush_is_told_and_a_frozen_jar_speaks_for_it():
    """Gum that froze no longer holds the colour (common practice, no source)."""
    found = tile("black smeared", reached=None)
    assert found.enough_to_tell and found.causes[0].name == "colour_dragged"
    frozen = tile("black smeared", reached=None, clues={"glaze_spoiled": "yes"})
    assert share_of("colour_dragged", frozen) > share_of("colour_dragged", found)
    assert not tile("the label was smeared", reached=None).enough_to_tell
    noted = tile("smeared by the brush; the jar had frozen in winter", reached=None)
    assert any("frozen" in each for each in noted.causes[0].for_)


def test_what_the_words_name_is_the_suspect_where_more_is_left_for_what_is_in_no_list():
    found = tile("a bald patch", reached=None)
    assert found.causes[0].name == "other"
    assert (
        "No cause known" not in found.say and "First suspect (about 4 in 10): the bare" in found.say
    )


@pytest.mark.parametrize("note", ["a blister burst", "knocked off the stilt"])
def test_a_burst_blister_or_a_stilt_knocked_off_is_read_as_neither(note):
    named = {each.name for each in tile(note, reached=None).causes if each.for_}
    assert not named & {"damp_ware", "knocked"}


def test_a_note_beside_several_faults_names_none_of_them():
    faults = [{"defect": "other"}, {"defect": "crawling"}]
    both = tile(note=None, inspections=[
        {"inspected_on": "2025-03-03", "note": "bare beside a crack", "defects": faults}
    ], reached=None)  # fmt: skip
    assert both.defect == "other"
    assert not any(each.is_ruled_out for each in both.causes)


@pytest.mark.parametrize("note", [None, "odd", "no cracks", "not stuck", "foot left bare"])
def test_without_such_words_no_cause_is_out_of_the_question(note):
    found = tile(note, reached=None)
    assert not any(each.is_ruled_out for each in found.causes)


@pytest.mark.parametrize("coats", [1, 2, 4])
def test_streaks_of_few_coats_are_those_of_a_thin_one(coats):
    """Three brush coats cover a streaky colour (common practice, no source)."""
    jar = {"name": "berry", "kind": "jar", "role": "glaze", "finish": "gloss"}
    area = {"number": 1, "layers": [{"glaze": jar, "coats": coats, "method": "brush"}]}
    found = tile("streaky", reached="6", areas=[area])
    assert found.enough_to_tell is (coats < 3)
    assert (found.causes[0].name == THIN) is (coats < 3)


@pytest.mark.parametrize(
    "note", ["thin, clay shows through", "too thin", "you can see the clay through it"]
)
def test_a_thin_coat_told_in_words_is_named_with_three_coats_too(note):
    jar = {"name": "berry", "kind": "jar", "role": "glaze", "finish": "gloss"}
    layer = {"glaze": jar, "coats": 3, "thickness_mm": 0.3}
    found = tile(note, reached="6", areas=[{"number": 1, "layers": [layer]}])
    assert found.enough_to_tell and found.causes[0].name == THIN


@pytest.mark.parametrize("clues", [{}, {"stuck_to_shelf": "yes"}])
def test_what_would_be_plain_to_see_is_named_only_where_something_speaks_for_it(clues):
    found = tile(reached=None, finish=None, clues=clues)
    named = {"stuck_to_shelf"} if clues else set()
    listed = {each.name for each in found.causes if not each.is_unspoken} - {"other"}
    assert listed == named  # two coats alone make no suspect
    told = " ".join(" ".join(screen(found.case.record, [found])).split())
    assert ("glued the piece to the shelf" in told) is bool(clues)
    assert ("Say in a note what it looks like: streaky" in told) is (not clues)
    assert bool(clues) is ("%" in told) is ("to be sure" in told)
    assert "First suspect" not in told or clues
    (mend,) = fix(found.case.record)
    assert [each.cause for each in mend.causes] == (["stuck_to_shelf"] if clues else [])
    nexts = next_tiles(found, Owned())
    assert {title for title, _ in nexts.causes} == {
        each.title for each in found.causes if not each.is_unspoken
    }


@pytest.mark.parametrize("others", [[], [{"defect": "crazing"}]])
def test_words_that_fit_no_cause_are_told_back_with_what_to_look_at(others):
    """Two coats alone make no suspect, and beside another fault nobody is asked either."""
    faults = [{"defect": "other", "note": "a rough sandy patch"}, *others]
    record = forms.read(forms.TileRecord, {
        "mark": "O-1", "body": "peat", "firing": {"name": "F1", "target_cone": "6"},
        "areas": [{"number": 1, "layers": [{"glaze": "barn", "coats": 2, "method": "brush"}]}],
        "inspections": [{"inspected_on": "2025-03-03", "defects": faults}],
    })  # fmt: skip
    found = next(each for each in why(record) if each.defect == "other")
    assert found.say.startswith('No cause known here fits "a rough sandy patch". Look with a lens')
    assert found.say.endswith("Then look there.")
    for show_all in (False, True):
        told = " ".join(screen(record, [found], show_all=show_all))
        for never in ("%", "suspect", "to find out", "--ask", "stuck", "Candidates"):
            assert never not in told
    assert "rules other" in told
    assert not any(each.not_recorded for each in found.causes if each.is_unspoken)


def test_of_a_gloss_the_first_question_is_how_it_cooled():
    found = tile("glossy", reached="6")
    assert questions(found.case)[0].name == "cooled_slowly"
    asked = {each.name for each in questions(found.case)}
    assert not asked & {"stuck_to_shelf", "crack_edges_rounded", "marks_come_off"}


def test_the_trial_is_the_same_tile_in_a_firing_that_cools_slowly_and_no_glossy_glaze():
    glazes = [
        forms.GlazeRecord(name=name, role="glaze", finish=finish, cone_low="5", cone_high="6")
        for name, finish in (("shore", "clear"), ("ice", "gloss"), ("moss", "matt"))
    ]
    found = next_tiles(tile("glossy", reached="6"), Owned(glazes=glazes))
    changed = [each.trial.tile["trial_change"] for each in found.tiles]
    (slow,) = [each for each in found.tiles if each.kind == COOLING]
    assert slow.own_firing == (
        "cooled at 60 °C/h at most from 1000 to 800 °C, in a kiln that can be fired down"
    )
    assert slow.if_sound[0][0] == "it cooled too fast to grow the crystals that make it matt"
    assert not any("shore" in each or "ice" in each for each in changed)
    assert len(found.tiles) > 1  # another matt may be fired beside it


def test_a_trial_that_cooled_slowly_and_came_out_matt_counts_for_the_cause():
    failed = tile("glossy", reached="6", clues={"cooled_slowly": "no"})
    trial = forms.read(
        forms.TileRecord,
        failed.case.record.model_dump(exclude_none=True)
        | {
            "mark": "O-2", "clues": {"cooled_slowly": "yes"}, "trial_of": "O-1",
            "trial_defect": "other",
            "trial_change": "cooling from 1000 to 800 °C at its own pace -> 60 °C/h at most",
            "inspections": [{"inspected_on": "2025-04-03", "defects": []}],
        },
    )  # fmt: skip
    told = tile("glossy", reached="6", clues={"cooled_slowly": "no"}, others=[trial])
    assert share_of(COOLED, told) > share_of(COOLED, failed)
    assert [each.mark for each in told.case.tried] == ["O-2"]
