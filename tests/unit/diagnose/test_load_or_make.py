"""A whole load failed whatever the glaze: first its control, then the glaze."""

import json
from dataclasses import replace
from datetime import date

import pytest

from diagnose.comparing.of_studio import clear_counts, counter
from diagnose.fixes.of_tile import fix
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.own_tiles.load_or_make import causes_of_load, load_or_make
from diagnose.trials.other_load import chances_in_other_load
from tests.unit.diagnose.test_next_tiles import OWNED
from tests.unit.diagnose.test_of_studio import GLAZES, a_bad_load, beside
from tiles.cli import fix_screen, load_told, next_load
from tiles.cli.fix_plan import Marked, _each_once, _on_record


def dated(records):
    """F9 of the first of March, the other loads before it."""
    for each in records:
        each.firing.fired_on = date(2026, 3 if each.firing.name == "F9" else 2, 1)
    return records


def unlike(records):
    """Each glaze in F9 with other coats than elsewhere: no tile is made like those of F9."""
    for each in records:
        (layer,) = each.areas[0].layers
        is_odd = GLAZES.index(layer.glaze.name) % 2 == 1
        layer.coats = 2 + (is_odd is (each.firing.name == "F9"))
    return records


@pytest.fixture
def records():
    return unlike(dated(a_bad_load()))


def again(record, number, *, failed=None, fired_on="2026-03-08", trial=True):
    """A tile made like one of the load; not looked at where it is not said to have failed."""
    told = record.model_dump() | {"mark": f"A-{number}"}
    told |= {"firing": None} if failed is None else {"firing": {"name": "G1", "fired_on": fired_on}}
    seen = [{"inspected_on": "2026-03-09", "defects": [{"defect": "pinholes"}] * bool(failed)}]
    told["inspections"] = [] if failed is None else seen
    of = {"trial_of": record.mark, "trial_defect": "pinholes", "trial_change": "as it was"}
    return type(record).model_validate(told | (of if trial else {}))


def told(record, records):
    return load_or_make(beside(record, records), records)


def test_before_any_change_one_control_goes_into_the_next_load(records):
    found = told(records[0], records)
    assert found.leads and not (found.is_over or found.is_make or found.elsewhere)
    assert (found.firing, len(found.marks)) == ("F9", 7)
    diagnosis = beside(records[0], records)
    answer = next_tiles(diagnosis, OWNED, others=records)
    assert answer.tiles == [] and answer.is_of_load and answer.told_bits > 0
    (control,) = answer.trials
    assert control.tile["trial_change"] == "as it was"
    assert control.tile["note"].startswith(
        "In the next ordinary load, with a witness cone beside it: it tells whether load F9"
    )
    (fixed,) = fix(records[0], others=records[1:], count_of=counter(lambda: records))
    assert fixed.is_of_load and [each.change for each in fixed.trials] == [control.change]
    assert fixed.causes[0].fixes or fixed.causes[1].fixes, (
        "what would change it is told all the same"
    )
    assert json.loads(json.dumps(fixed.as_dict()))["load"]["firing"] == "F9"


def test_of_two_faults_a_load_keeps_its_control_and_what_is_changed_is_for_the_other(records):
    worse = {"defect": "crawling", "severity": "severe"}
    two = records[0].model_dump()
    two["inspections"][-1]["defects"].append(worse)
    records[0] = type(records[0]).model_validate(two)

    def fixed(every):
        answers = fix(records[0], others=every[1:], count_of=counter(lambda: every))
        assert [(each.defect, each.is_of_load) for each in answers] == [
            ("crawling", False),
            ("pinholes", True),
        ]
        marked = [Marked(f"N-{at}", *each) for at, each in enumerate(_each_once(answers))]
        told = fix_screen.screen(records[0], answers, marked, is_planned=False)
        return answers, marked, " ".join(" ".join(told).split())

    answers, marked, told = fixed(records)
    (control,) = [each for each in marked if each.trial.is_control]
    assert (control.mark, control.defect) == ("N-0", "pinholes")
    assert control.values["note"].startswith("In the next ordinary load, with a witness cone")
    assert "crawling: " in told and "crawling and pinholes: " not in told
    waits = type(records[0]).model_validate(control.values)
    assert _on_record([waits], "crawling", control.trial) == "N-0", "one control for both faults"
    _answers, _marked, told = fixed([*records, waits])
    assert "and look at it before any glaze or coat is changed for it." in told
    _answers, _marked, told = fixed([*records, again(records[0], 1, failed=False)])
    assert "for pinholes: change no glaze or coat for it, and fire no tile." in told
    assert "crawling: " in told and "crawling and pinholes: " not in told


def test_only_what_a_load_shares_stays_behind_in_another():
    records = a_bad_load()
    case = beside(records[0], records).case
    shared = causes_of_load(case)
    assert shared and "coat_too_thick" not in shared
    chances = dict(zip((row.name for row in case.rows), chances_in_other_load(case), strict=True))
    assert all(chances[name] == pytest.approx(0.2) for name in shared)
    assert chances["coat_too_thick"] == pytest.approx(0.85)
    found = told(records[0], records)
    shares = dict(found.now)
    for row in case.rows:
        if row.name in shared and row.share > 0.01:
            assert dict(found.if_sound)[row.title] > shares[row.title]


def test_a_tile_made_alike_that_came_out_in_a_load_since_tells_that_it_was_the_load(records):
    plain = beside(records[0], records).case
    sound = again(records[0], 1, failed=False)
    every = [*records, sound]
    diagnosis = beside(records[0], every)
    found = load_or_make(diagnosis, every)
    assert found.is_over and found.leads
    assert found.elsewhere == "Made like it, A-1 of another load came out without it."
    assert next_tiles(diagnosis, OWNED, others=every).trials == []
    (tried,) = diagnosis.case.tried
    assert (tried.load, tried.came_again) == ("F9", False)
    shared = causes_of_load(plain)

    def share(case):
        return sum(row.share for row in case.rows if row.name in shared)

    assert share(diagnosis.case) > share(plain) + 0.05
    assert dict(told(records[0], records).if_sound) == pytest.approx(
        {row.title: row.share for row in diagnosis.case.rows if row.is_in_question}, abs=0.01
    ), "as it was foretold"
    screen = " ".join(" ".join(next_load.screen(next_tiles(diagnosis, OWNED, others=every), [],
                                                is_planned=False)).split())  # fmt: skip
    assert "the fault did not come, so it was load F9 and not how the tile is made." in screen
    assert "Change no glaze or coat for it, and fire no tile." in screen


def test_one_control_tells_it_for_the_other_tiles_of_the_load(records):
    waits = [*records, again(records[0], 1)]
    assert told(records[1], waits).waiting == ("A-1",)
    assert next_tiles(beside(records[1], waits), OWNED, others=waits).trials == []
    every = [*records, again(records[0], 1, failed=False)]
    found = told(records[1], every)
    assert found.is_over
    assert found.elsewhere == f"A-1, made like {records[0].mark} of F9, came out without it since."
    chance = [*records, again(records[0], 1, failed=False, trial=False)]
    assert not told(records[1], chance).is_over, "one tile of another glaze may be luck"


def test_of_many_controls_the_first_are_named_and_the_others_counted(records):
    of, failed = told(records[0], records).marks, (True, True, False, True, True, False)
    mates = {each.mark: each for each in records}
    some = [mates[mark] for mark in of if mark != records[0].mark]
    every = [
        again(each, n, failed=so) for n, (each, so) in enumerate(zip(some, failed, strict=True))
    ]
    for number, each in enumerate(every):
        each.firing.name = f"G{number}"
    said = told(records[0], [*records, *every]).elsewhere
    assert said.endswith(
        f". A-0, made like {some[0].mark} of F9, had pinholes in another load too. "
        f"A-1, made like {some[1].mark} of F9, had pinholes in another load too. "
        f"A-2, made like {some[2].mark} of F9, came out without it since. Of the others made like "
        "tiles of F9, 2 had pinholes in another load too and 1 came out without it since."
    )


def test_where_it_fails_in_another_load_too_the_make_is_tried(records):
    every = [*records, again(records[0], 1, failed=True)]
    diagnosis = beside(records[0], every)
    found = load_or_make(diagnosis, every)
    assert found.is_make and not found.leads
    assert "But it was not the load alone. Made like it, A-1 of another load had" in (
        load_told.suspect(found)
    )
    answer = next_tiles(diagnosis, OWNED, others=every)
    assert answer.tiles and not answer.is_of_load
    other = told(records[1], every)
    assert other.leads, "of another glaze it tells nothing"
    plain = "Sound, it tells it for all 7 tiles of F9 at once."
    assert load_told.serves(told(records[1], records)) == plain
    assert load_told.serves(other) == "", "one that failed stands against a sound one for the rest"
    both = [*every, again(records[1], 2, failed=False)]
    assert told(records[1], both).is_over, "its own control tells what it was planned to tell"
    assert not told(records[2], both).is_over


def test_what_was_made_alike_before_is_told_and_the_next_load_still_shows_whether_it_is_over():
    records = dated(a_bad_load())
    load = clear_counts(records, "pinholes").load.of_load
    own = [each for each in load.again if each.of == records[0].mark]
    assert own and not any(each.is_since or each.is_control for each in load.again)
    found = told(records[0], records)
    assert found.leads and not found.is_over
    assert found.elsewhere.startswith(f"Of {len(own)} tiles made like it in other loads ")


def test_a_control_that_failed_is_not_asked_for_again_however_many_came_out_before():
    records = dated(a_bad_load())
    load = clear_counts(records, "pinholes").load.of_load
    alike = {each.of for each in load.again if not each.failed}
    mates = [each for each in records if each.mark in alike]
    (first, *others) = [each for each in mates if each.areas == mates[0].areas]
    assert others
    every = [*records, again(first, 1, failed=True)]
    for record in (first, *others):
        found = told(record, every)
        assert found.is_make and not found.leads, "nor for a tile of the load made like it"


def test_a_trial_of_a_change_that_is_not_on_its_record_is_not_made_alike(records):
    changed = [again(records[0], number, failed=True) for number in (1, 2)]
    for each in changed:
        each.trial_change = "dry coat 0.8 -> 0.6 mm"
    found = told(records[0], [*records, *changed, again(records[0], 3, failed=False)])
    assert found.is_over and [each.mark for each in found.again] == ["A-3"]


def test_a_layer_whose_coats_were_not_counted_is_made_like_none():
    records = dated(a_bad_load())
    for each in records:
        each.areas[0].layers[0].coats = None
    assert clear_counts(records, "pinholes").load.of_load.again == ()
    records.append(again(records[0], 1, failed=False))
    (one,) = clear_counts(records, "pinholes").load.of_load.again
    assert (one.mark, one.of, one.is_control) == ("A-1", records[0].mark, True), (
        "but one so planned"
    )


def test_what_fails_in_another_bad_load_tells_of_no_make(records):
    bad = [again(records[0], 1, failed=True)]
    bad += [again(records[n], 50 + n, failed=True, trial=False) for n in (1, 2)]
    found = told(records[0], [*records, *bad])
    assert found.leads and not (found.again or found.is_make)
    assert clear_counts([*records, *bad], "pinholes").load.of_load.bad_too == {"g1"}
    (tried,) = beside(records[0], [*records, *bad]).case.tried
    assert tried.came_again and not (tried.load or tried.moves)


def test_a_cause_that_the_tile_itself_tells_goes_before_the_load(records):
    diagnosis = beside(records[0], records)
    rows = sorted(diagnosis.case.rows, key=lambda each: each.name != "coat_too_thick")
    sure = replace(diagnosis, enough_to_tell=True, case=replace(diagnosis.case, rows=tuple(rows)))
    found = load_or_make(sure, records)
    assert not found.leads and load_told.suspect(found) == found.say
    answer = next_tiles(sure, OWNED, others=records)
    assert answer.tiles and not answer.is_of_load
    assert load_or_make(replace(diagnosis, enough_to_tell=True), records).leads, "a load shares it"


@pytest.mark.parametrize(
    ("cones", "said"),
    [([], "its witness cones, schedule"), ([("top", "05"), (None, "04")],
                                           "its witness cones (05 top, 04; set for 05), schedule")],
)  # fmt: skip
def test_what_was_read_of_the_load_is_told(records, cones, said):
    record = records[0].model_dump()
    witness = [{"shelf": shelf, "cone": cone} for shelf, cone in cones]
    record["firing"] |= {"target_cone": "05", "witness_cones": witness}
    record = type(records[0]).model_validate(record)
    assert said in told(record, [record, *records[1:]]).look_at
