"""The next tiles go no hotter than what clay and glaze stand, whatever cone was set or reached."""

import pytest

from diagnose.case import weigh_case
from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.changes import Owned, candidates
from diagnose.view import View
from tests.unit.diagnose.test_next_tiles import OTHER, POND, WHITE, proposed, tile
from tiles.cli import next_text
from tiles.cli.fix_plan import Marked
from tiles.records import forms


@pytest.mark.parametrize(("label", "is_told"), [(("06", "06"), False), (("06", "05"), True)])
def test_what_goes_on_a_trial_stands_the_cone_set_as_well_as_the_one_reached(label, is_told):
    jar = OTHER | {"cone_low": label[0], "cone_high": label[1]}
    clay = WHITE | {"cone_low": label[0], "cone_high": label[1]}
    owned = Owned([forms.BodyRecord.model_validate(clay)], [forms.GlazeRecord.model_validate(jar)])
    record = tile("crawling", cone="06")
    record.firing = forms.FiringRecord(name="F-1", target_cone="05")
    view = View(record, record.areas[0], "crawling")
    found = candidates(view, weigh_case(record, "crawling"), owned)
    swapped = {each.kind for each in found} & {"glaze", "body"}
    assert swapped == ({"glaze", "body"} if is_told else set())


def test_over_the_label_only_the_right_cone_is_proposed_and_no_control():
    found = proposed(tile("pinholes", cone="02"))
    assert [each.trial.change for each in found.tiles] == ["cone reached 02 -> 05"]
    assert found.control is None
    told = next_text.screen(found, [Marked("N-1", "pinholes", *found.trials)], is_planned=True)
    assert "No control: fired to cone 02 again" in " ".join(told)
    assert found.left_out == []


def test_what_went_over_its_label_may_be_changed_as_it_is_planned_as_a_fix_no_hotter():
    record = tile("pinholes", cone="02")
    found = proposed(record)
    planned = {each.change for answer in fix(record) for each in answer.trials}
    assert set(found.cooler) & planned
    assert not any(each.startswith(tuple(planned)) for each in found.left_out)
    marked = [Marked("N-1", "pinholes", *found.trials)]
    told = " ".join(next_text.screen(found, marked, is_planned=True))
    assert "Fired no hotter than cone 04, the most that pond stands, and beside N-1" in told
    assert next_text.as_dict(found, marked)["cooler"] == found.cooler


@pytest.mark.parametrize(("more", "is_refused"), [((), False), (("running",), True)])
def test_a_coat_that_may_run_stays_refused_however_cool(more, is_refused):
    found = proposed(tile("crazing", coats=2, cone="02", more=more), "crazing")
    assert ("coats 2 -> 3: it ran already" in found.left_out) is is_refused
    assert ("coats 2 -> 3" in found.cooler) is not is_refused


def test_of_a_glaze_and_a_clay_that_have_no_firing_in_common_no_tile_is_proposed():
    record = tile("running", glaze=POND | {"cone_low": "5", "cone_high": "6"})
    found = proposed(record)
    assert "They do not belong together" in found.stop
    assert (found.tiles, found.control, found.trials) == ([], None, [])
    assert found.stop in " ".join(next_text.screen(found, [], is_planned=False)).replace("\n", " ")
    assert next_text.as_dict(found, [])["stop"] == found.stop
    assert proposed(tile("running")).stop == ""
