"""A shelf that missed the target where another one of the same firing met it."""

import pytest

from diagnose.fixes.of_tile import fix
from diagnose.fixes.trials import control
from diagnose.next_tiles.changes import Owned
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.own_tiles.right_shelf import shelves_that_miss
from diagnose.report import why
from diagnose.rules import load
from diagnose.trials.controls import why_no_control
from tiles.records import forms, words

WHOLE_KILN = ("thermocouple", "cone cooler", "Hold", "elements")


def tile(defect, here, there, *, shelf="bottom", target="05"):
    cones = [{"cone": here, "shelf": "bottom"}, {"cone": there, "shelf": "top"}]
    jar = {"name": "moss", "kind": "jar", "role": "glaze", "cone_low": "06", "cone_high": "04"}
    values = {
        "mark": "R-1", "body": "red clay", "shelf": shelf,
        "firing": {"name": "F1", "target_cone": target, "witness_cones": cones},
        "areas": [{"number": 1, "layers": [{"glaze": jar, "coats": 2}]}],
        "inspections": [{"inspected_on": "2025-03-03", "defects": [{"defect": defect}]}],
    }  # fmt: skip
    return forms.read(forms.TileRecord, values)


def cause(record, name):
    return next(each for each in why(record)[0].causes if each.name == name)


@pytest.mark.parametrize(
    ("defect", "name", "here"),
    [("running", "overfired", "04"), ("unwanted matt", "kiln_short", "07"),
     ("underfired", "cold_shelf", "07")],
)  # fmt: skip
def test_such_ware_goes_on_the_shelf_that_was_right_and_the_kiln_stays_as_it_is(defect, name, here):
    found = cause(tile(defect, here, "05"), name)
    assert found.fixes[0] == (
        "Put such ware on shelf top: in the same firing it reached cone 05, as set, shelf bottom "
        f"cone {here}."
    )
    assert not [each for each in found.fixes[1:] if any(word in each for word in WHOLE_KILN)]
    assert found.confirm == ["Fire a twin on shelf top, with a witness cone beside it."]


@pytest.mark.parametrize(
    "record",
    [
        tile("running", "04", "04"),
        tile("running", "04", "06"),
        tile("running", "04", "05", shelf=None),
        tile("running", "04", "05", shelf="middle"),
    ],
    ids=["all hot", "one too cool", "no shelf", "unread shelf"],
)
def test_where_no_other_shelf_is_known_to_be_right_the_kiln_is_spoken_of(record):
    found = cause(record, "overfired")
    assert found.fixes[0].startswith("Up to one cone over: fire one cone cooler")
    assert not any("Put such ware" in each for each in found.fixes)


def test_fix_plans_the_other_shelf_instead_of_another_firing():
    (answer,) = fix(tile("running", "04", "05"))
    over = next(each for each in answer.causes if each.cause == "overfired")
    assert [each.changes[0].said for each in over.fixes] == ["shelf bottom -> top"]
    as_it_was, planned = (each.tile for each in answer.trials[:2])
    place = "Same firing as the others of the set, on shelf"
    assert f"{place} top, with a witness cone." in planned["note"]
    assert f"{place} bottom." in as_it_was["note"]
    assert (planned["shelf"], as_it_was["shelf"]) == ("top", "bottom")
    (answer,) = fix(tile("running", "04", "04"))
    over = next(each for each in answer.causes if each.cause == "overfired")
    assert over.fixes[0].changes[0].said == "cone reached 04 -> 05"


def _of_kiln(record, name, top):
    """A sound tile from another firing of its kiln, of which the top shelf reached this cone."""
    record.firing.kiln = "big kiln"
    other = tile("running", "05", top)
    firing = other.firing.model_copy(update={"name": name, "kiln": "big kiln"})
    look = other.inspections[0].model_copy(update={"defects": []})
    return other.model_copy(update={"mark": name, "firing": firing, "inspections": [look]})


@pytest.mark.parametrize(
    ("change", "told"),
    [("cone reached 06 -> 05", "cone reached 06 -> 05"), ("fired again", "cone reached 06 -> 05")],
)
def test_a_trial_that_reached_the_cone_in_a_firing_of_its_own_counts_for_that(change, told):
    cold = tile("underfired", "06", "05")
    cold.areas[0].layers[0].glaze.cone_low = "05"
    look = cold.inspections[0].model_copy(update={"defects": []})
    firing = cold.firing.model_copy(update={"name": "F2", "witness_cones": []})
    trial = {"mark": "R-2", "trial_of": "R-1", "trial_defect": "underfired", "firing": firing,
             "trial_change": change, "cone_reached": "05", "inspections": [look]}  # fmt: skip
    (answer,) = why(cold, None, [cold.model_copy(update=trial)])
    (tried,) = answer.case.tried
    assert (tried.change, tried.is_as_planned) == (told, True)
    assert next(each for each in answer.causes if each.name == "coat_too_thin").own_log_odds < 0


def test_a_shelf_that_gets_the_right_cone_is_no_second_trial_beside_that_cone():
    cold = tile("underfired", "06", "05")
    cold.areas[0].layers[0].glaze.cone_low = "05"
    (answer,) = fix(cold)
    planned = [each.change for each in answer.trials]
    assert "shelf bottom -> top" in planned
    assert not any(each.startswith("cone reached") for each in planned)
    too_cool = next(each for each in answer.causes if each.cause == "below_its_range")
    assert (too_cool.fixes, too_cool.acts_too) == ([], ["A"])
    changes = [each.trial.change for each in next_tiles(why(cold)[0], Owned()).tiles]
    assert "shelf bottom -> top" in changes
    assert not any(each.startswith("cone reached") for each in changes)
    others = [_of_kiln(cold, f"G{at}", "06") for at in range(2)]  # there ware is not sent to top
    (answer,) = fix(cold, others=others)
    assert "cone reached 06 -> 05" in [each.change for each in answer.trials]
    changes = [each.trial.change for each in next_tiles(why(cold)[0], Owned(), others=others).tiles]
    assert "cone reached 06 -> 05" in changes and "shelf bottom -> top" not in changes
    cold.areas[0].layers[0].glaze.cone_low = "04"  # more than that shelf got
    (answer,) = fix(cold)
    assert "cone reached 06 -> 04" in [each.change for each in answer.trials]
    cold.areas[0].layers[0].glaze.cone_low = "05"
    cold.firing.target_cone = "06"  # then no shelf was wrong, and the glaze wants another firing
    (answer,) = fix(cold)
    assert "cone reached 06 -> 05" in [each.change for each in answer.trials]


@pytest.mark.parametrize(
    ("defect", "here", "title"),
    [("underfired", "06", "one shelf or place of the kiln is colder than the rest"),
     ("underfired", "07", "one shelf or place of the kiln is colder than the rest"),
     ("unwanted matt", "06", "its shelf or place in the kiln fell short of the cone"),
     ("running", "04", "its shelf or place in the kiln went over the cone")],
)  # fmt: skip
def test_no_kiln_is_blamed_that_met_its_cone_on_another_shelf(defect, here, title):
    (answer,) = why(tile(defect, here, "05"))
    assert answer.causes[0].title == title
    assert not [e.title for e in answer.causes if e.title.startswith("the kiln") and e.share > 0.1]
    assert not any("other shelves got their heat" in each for each in answer.causes[0].against)
    (all_alike,) = why(tile(defect, here, here))
    assert all_alike.causes[0].title.startswith("the kiln ")


def test_a_shelf_that_got_its_cone_is_not_cold_beside_one_that_went_over():
    cold = cause(tile("underfired", "05", "03"), "cold_shelf")
    assert cold.share < 0.05
    assert not cold.for_
    assert cause(tile("underfired", "05", "03", target="04"), "cold_shelf").for_
    below_its_label = cause(tile("underfired", "07", "05", target="07"), "cold_shelf")
    assert below_its_label.for_


def test_what_the_tile_itself_reached_is_not_said_of_its_shelf():
    record = tile("running", "05", "05").model_copy(update={"cone_reached": "03"})
    assert cause(record, "overfired").fixes[0].endswith("cone 05, as set, this tile cone 03.")


@pytest.mark.parametrize(
    ("there", "change"),
    [("05", "shelf bottom -> top"),
     ("06", "place in the kiln bottom -> a shelf with its own witness cone")],
)  # fmt: skip
def test_a_twin_that_is_sound_on_another_shelf_speaks_for_the_shelf_not_the_kiln(there, change):
    failed = tile("underfired", "07", there)
    look = failed.inspections[0].model_copy(update={"defects": []})
    told = {"trial_of": "R-1", "trial_defect": "underfired", "trial_change": change,
            "shelf": "top", "inspections": [look]}  # fmt: skip
    odds = {}
    for mark in ("R-2", "R-3"):
        trial = failed.model_copy(update=told | {"mark": mark})
        shelf = "bottom" if mark == "R-3" and there == "05" else "top"
        (answer,) = why(failed, others=[trial.model_copy(update={"shelf": shelf})])
        odds[mark] = {each.name: each.own_log_odds for each in answer.causes}
    assert odds["R-2"]["cold_shelf"] > 0 > odds["R-2"]["kiln_short"]
    assert bool(odds["R-3"]["cold_shelf"]) is (there != "05")


def test_another_shelf_needs_no_firing_of_its_own():
    for defect, here, there in (("running", "04", "05"), ("underfired", "07", "06")):
        found = next_tiles(why(tile(defect, here, there))[0], Owned())
        (shelf,) = [each for each in found.tiles if each.kind in ("shelf", "place in the kiln")]
        assert shelf.own_firing == ""
        assert "Same firing as the others" in shelf.trial.tile["note"]


def test_a_set_that_must_go_less_hot_stands_on_the_shelf_that_did():
    """Beside it the same shelf would be too hot once more, so that no control stands there."""
    record = tile("running", "03", "05")
    found = next_tiles(why(record)[0], Owned())
    assert ([each.kind for each in found.tiles], found.control) == (["shelf"], None)
    told = why_no_control("R-1", [("R-2", "shelf bottom -> top")])
    assert told.startswith("No control: on shelf bottom again it would be over what")
    assert all(each.tile["shelf"] == "top" for each in fix(record)[0].trials)
    look = {"defects": [{"defect": "crawling"}]}
    record.inspections[0] = record.inspections[0].model_validate(
        record.inspections[0].model_dump() | look
    )
    (as_it_was, *others) = fix(record)[0].trials
    assert as_it_was.change.startswith("as R-1, nothing changed but the firing, on shelf top. No")
    assert {each.tile["shelf"] for each in (as_it_was, *others)} == {"top"}
    both_hot = why(record, None, [_of_kiln(record, f"G{at}", "04") for at in range(2)])[0].case
    note = control(both_hot.view, both_hot.off_shelves).tile["note"]
    assert "on shelf bottom, set 2 cones less than then." in note


def test_a_set_is_not_sent_unwarned_to_a_shelf_that_often_goes_over_what_it_stands():
    record = tile("running", "04", "05")
    others = [_of_kiln(record, f"G{at}", "05") for at in range(2)]
    assert next_tiles(why(record)[0], Owned(), others=others).hot_shelf == ""
    for each in others:
        each.firing.witness_cones[0].cone = "03"
    told = next_tiles(why(record)[0], Owned(), others=others).hot_shelf
    assert told == fix(record, others=others)[0].hot_shelf
    assert told.startswith(
        "Set for cone 05, shelf bottom goes to cone 03, if it does as in G0 and G1: moss stands "
        "cone 04. Set this one lower"
    )
    others += [_of_kiln(record, f"G{at}", "05") for at in range(2, 8)]
    assert next_tiles(why(record)[0], Owned(), others=others).hot_shelf == "", "now and then"


def test_tiles_that_tell_nothing_of_a_fault_in_own_words_still_tell_of_the_kiln():
    record, cool = (tile("other", here, "05") for here in ("03", "04"))
    hot = [_of_kiln(record, f"G{at}", "04") for at in range(2)]
    assert why(record, None, hot)[0].case.off_shelves == {"top"}
    assert not next_tiles(why(record)[0], Owned(), others=hot).tiles, "the shelf mostly misses"
    over = [_of_kiln(cool, f"G{at}", "05") for at in range(2)]
    for each in over:
        each.firing.witness_cones[0].cone = "03"
    told = next_tiles(why(cool)[0], Owned(), others=over).hot_shelf
    assert told.startswith("Set for cone 05, shelf bottom goes to cone 03")


@pytest.mark.parametrize(("cones", "is_told"), [(("05", "05"), True), (("06", "06"), False)])
def test_no_ware_is_sent_to_a_shelf_that_mostly_misses_its_cone(cones, is_told):
    record = tile("running", "04", "05")
    record.firing.kiln = "big kiln"
    others = []
    for at, cone in enumerate(cones):
        other = tile("running", "05", cone)
        firing = other.firing.model_copy(update={"name": f"G{at}", "kiln": "Big kiln"})
        others.append(other.model_copy(update={"mark": f"G-{at}", "firing": firing}))
    (answer,) = why(record, None, others)
    (told,) = [each for each in answer.causes if each.name == "overfired"]
    assert any("on shelf top" in each for each in told.fixes) is is_told
    found = next_tiles(answer, Owned(), others=others)
    assert ("shelf" in [each.kind for each in found.tiles]) is is_told
    changes = [each.changes[0].what for one in fix(record, others=others)[0].causes
               for each in one.fixes]  # fmt: skip
    assert ("shelf" in changes) is is_told


def test_a_tile_of_no_known_firing_tells_nothing_of_the_shelves():
    record = tile("running", "04", "05")
    record.firing.kiln = "big kiln"
    unknown = record.model_copy(update={"mark": "G-1", "firing": None, "shelf": None})
    assert shelves_that_miss(record, [unknown]) == shelves_that_miss(record, []) == frozenset()


def test_no_ware_is_sent_to_a_shelf_that_was_hotter_than_its_label():
    record = tile("running", "04", "05")
    jar = record.areas[0].layers[0].glaze
    jar.cone_low, jar.cone_high = "08", "06"
    (answer,) = fix(record)
    said = [each.changes[0].said for one in answer.causes for each in one.fixes]
    assert "cone reached 04 -> 06" in said and not any("shelf" in each for each in said)
    assert not any("Put such ware" in each for each in cause(record, "overfired").fixes)


def test_what_was_tried_is_not_asked_for_once_more():
    failed = tile("running", "04", "05")
    sound = failed.inspections[0].model_copy(update={"defects": []})
    told = {"mark": "R-2", "trial_of": "R-1", "trial_defect": "running", "shelf": "top",
            "trial_change": "shelf bottom -> top", "inspections": [sound]}  # fmt: skip
    (answer,) = why(failed, others=[failed.model_copy(update=told)])
    assert answer.causes[0].confirm == []
    assert answer.causes[0].fixes[0].startswith("Put such ware on shelf top")


@pytest.mark.parametrize("defect", words.DEFECTS)
def test_a_hold_of_the_whole_kiln_is_no_advice_for_one_shelf(defect):
    of_kiln = [each for each in load(defect).causes if each.name in ("kiln_short", "overfired")]
    holds = [a for each in of_kiln for a in each.fixes if "hold at the top" in a.changes]
    assert all(each.say.startswith("Whole kiln: ") for each in holds)
