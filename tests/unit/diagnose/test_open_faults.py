"""The open faults of a studio, and the tile that is asked about for each."""

from datetime import date, timedelta

import pytest

from diagnose.next_tiles.open_faults import open_faults
from tiles.records import forms

RED = {"name": "red clay"}


def tile(mark, *seen, on="2026-05-01", glaze="pond", retired=False, **more):
    layers = [{"glaze": {"name": glaze, "is_retired": retired}}] if glaze else []
    looks = [{"inspected_on": on, "defects": [{"defect": each} for each in seen]}]
    values = {"mark": mark, "body": RED, "areas": [{"number": 1, "layers": layers}],
              "inspections": looks} | more  # fmt: skip
    return forms.TileRecord.model_validate(values)


def told(records, *asked):
    return [(each.name, each.defect, len(each.failed), each.tiles)
            for each in open_faults(records, *asked)]  # fmt: skip


def test_the_faults_of_most_tiles_come_first_with_their_counts():
    seen = (("crazing",), ("crawling",), ("crawling", "crazing"), ("crawling",), ())
    records = [tile(f"T-{at}", *each) for at, each in enumerate(seen)]
    records.append(tile("T-6", "crazing", glaze="rain"))
    assert told(records) == [("pond", "crawling", 3, 5), ("pond", "crazing", 2, 5),
                             ("rain", "crazing", 1, 1)]  # fmt: skip
    assert told(records, "crazing") == [("pond", "crazing", 2, 5), ("rain", "crazing", 1, 1)]


def of_words(mark, *words):
    seen = [{"defect": "other", "note": each} for each in words]
    return tile(mark, inspections=[{"inspected_on": "2026-05-01", "defects": seen}])


def test_faults_without_a_word_of_their_own_come_last_and_each_by_what_was_written():
    records = [of_words(f"T-{n}", "black smeared" if n else "Black  smeared") for n in range(3)]
    records += [of_words("T-3", "exploded", "black smeared"), of_words("T-4", None)]
    records.append(tile("T-5", "crawling"))
    assert [(each.defect, each.words, len(each.failed)) for each in open_faults(records)] == [
        ("crawling", "", 1), ("other", "Black smeared", 4), ("other", "", 1),
        ("other", "exploded", 1),
    ]  # fmt: skip


def test_words_that_mean_one_fault_are_told_as_one():
    records = [of_words("T-1", "went glossy"), of_words("T-2", "no longer matt", "odd")]
    assert [(each.words, len(each.failed)) for each in open_faults(records)] == [
        ("went glossy", 2), ("odd", 1),
    ]  # fmt: skip


def test_a_name_counts_once_however_it_is_written():
    records = [tile("T-1", "crawling"), tile("T-2", "crawling", glaze="Pond ")]
    assert told(records) == [("pond", "crawling", 2, 2)]


def test_a_tile_of_several_areas_with_the_fault_counts_once():
    areas = [{"number": n, "layers": [{"glaze": {"name": "pond"}}]} for n in (1, 2)]
    assert told([tile("T-1", "crawling", areas=areas)]) == [("pond", "crawling", 1, 1)]


def test_bare_clay_counts_by_its_clay():
    records = [tile("T-1", "bloating", glaze=None), tile("T-2", glaze=None), tile("T-3")]
    assert told(records) == [("red clay", "bloating", 1, 2)]


@pytest.mark.parametrize(
    ("days_old", "is_open"), [("2025-04-30", True), ("2025-04-29", False)]
)  # 366 and 367 days before the newest look that saw a fault
def test_what_was_not_seen_within_a_year_is_no_longer_open(days_old, is_open):
    records = [tile("T-1", "crazing", on=days_old), tile("T-2", "crawling")]
    assert (("pond", "crazing", 1, 2) in told(records)) is is_open


def test_what_is_retired_is_left_out():
    clay = {"name": "old clay", "is_retired": True}
    assert told([tile("T-1", "crawling", retired=True), tile("T-2", "crawling", body=clay)]) == []


def test_the_newest_tile_is_asked_about_but_no_trial_with_a_change():
    older, newer = tile("T-1", "crawling"), tile("T-2", "crawling", on="2026-05-02")
    trial = tile("T-3", "crawling", on="2026-05-03", trial_of="T-1", trial_defect="crawling",
                 trial_change="coats 3 -> 2")  # fmt: skip
    (fault,) = open_faults([older, newer, trial])
    assert fault.record().mark == "T-2"
    assert fault.record([trial]).mark == "T-1"  # its trials tell of this one
    (fault,) = open_faults([trial])
    assert fault.record().mark == "T-3"


def test_tiles_whose_clay_and_glaze_have_no_firing_in_common_are_counted_by_themselves():
    """Of a jar for low fire on clay for high fire no trial tells what it does on its own clay."""
    stone = {"name": "stone clay", "cone_low": "5", "cone_high": "8"}
    layers = [{"glaze": {"name": "pond", "cone_low": "06", "cone_high": "04"}}]
    made = {"areas": [{"number": 1, "layers": layers}]}
    right = [tile("T-1", "crazing", **made), tile("T-2", **made)]
    wrong = [tile(f"T-{n}", "crazing", on="2026-05-03", body=stone, **made) for n in (3, 4, 5)]
    records = [*right, *wrong, tile("T-6", body=stone, **made)]
    assert told(records) == [("pond", "crazing", 3, 4), ("pond", "crazing", 1, 2)]
    apart, other = open_faults(records)
    assert (apart.is_apart, apart.record().mark) == (True, "T-5")
    assert (other.is_apart, other.record().mark) == (False, "T-1")


def test_a_tile_that_went_over_its_label_is_asked_about_last():
    glaze = {"name": "pond", "cone_low": "06", "cone_high": "04"}
    areas = [{"number": 1, "layers": [{"glaze": glaze}]}]
    over = tile("T-1", "crawling", on="2026-05-02", areas=areas, cone_reached="02")
    within = tile("T-2", "crawling", areas=areas, cone_reached="05")
    assert open_faults([over, within])[0].record().mark == "T-2"
    assert open_faults([over])[0].record().mark == "T-1"


def test_a_tile_asked_about_already_comes_last():
    records = [tile("T-1", "crawling"), tile("T-2", "crawling", on="2026-05-02")]
    (fault,) = open_faults(records)
    assert fault.record((), {"T-2"}).mark == "T-1"
    assert fault.record((), {"T-1", "T-2"}).mark == "T-2"


def test_trials_that_wait_count_for_each_fault_of_their_tile():
    made = {"trial_of": "t-1", "trial_change": "coats 3 -> 2", "inspections": []}
    records = [tile("T-1", "crawling", "crazing"), tile("T-2", **made, trial_defect="crawling"),
               tile("T-3", "pinholes")]  # fmt: skip
    waiting = {each.defect: each.waiting for each in open_faults(records)}
    assert waiting == {"crawling": records[1:2], "crazing": records[1:2], "pinholes": []}


def test_trials_for_another_fault_keep_none_waiting_that_other_tiles_show_as_well():
    made = {"trial_of": "T-1", "trial_change": "coats 3 -> 2", "inspections": []}
    trial = tile("T-9", **made, trial_defect="crawling")
    records = [tile("T-1", "crawling", "crazing"), tile("T-2", "crazing"), trial]
    waiting = {each.defect: each.waiting for each in open_faults(records)}
    assert waiting == {"crawling": [trial], "crazing": []}
    renamed = tile("T-9", **made, trial_defect="pinholes")
    records = [tile("T-1", "blisters"), tile("T-2", "blisters"), renamed]
    assert open_faults(records)[0].waiting == [renamed]


def test_a_tile_that_can_be_made_again_is_asked_about_before_a_newer_piece():
    """Of a customer's mug nobody knows the clay or the coats: no control can be made of it."""
    coated = {"areas": [{"number": 1, "layers": [{"glaze": {"name": "pond"}, "coats": 2}]}]}
    known = tile("K-8", "underfired", **coated)
    for mark, more in (
        ("mug 34", {"body": {"name": "unknown clay 1"}, **coated}),
        ("bowl 40", {}),  # its coats are not recorded
        ("pot 27", {"form": "vessel", **coated}),
    ):
        newer = tile(mark, "underfired", on="2026-06-01", **more)
        assert open_faults([known, newer])[0].record().mark == "K-8"
        assert open_faults([newer])[0].record().mark == mark


@pytest.mark.parametrize(
    ("name", "trial_of", "is_open"),
    [("pond T-1 A 1/3", "T-1", False), ("rain", "T-1", True), ("pond T-1 A 1/3", None, True),
     ("pond T-1 A 1/3", "T-9", True)],
)  # fmt: skip
def test_the_faults_of_a_trial_recipe_are_those_of_the_tile_it_is_for(name, trial_of, is_open):
    of = {"trial_defect": "crazing", "trial_change": "1/3 of the way to A", "trial_of": trial_of}
    trial = tile("T-2", "crazing", glaze=name, **of if trial_of else {})
    found = told([tile("T-1", "crazing"), trial])
    assert ((name, "crazing", 1, 1) in found) is is_open
    assert ("pond", "crazing", 1, 1) in found


def late(mark, *seen, after=60, **more):
    """A tile fired on the first of March, looked at so many days later."""
    firing = {"name": "F-1", "fired_on": "2026-03-01"}
    day = (date(2026, 3, 1) + timedelta(days=after)).isoformat()
    return tile(mark, *seen, on=day, firing=firing, **more)


def test_a_sound_look_before_a_late_fault_could_show_is_not_counted():
    records = [late("T-1", "crazing"), late("T-2"), late("T-3", after=1), late("T-4", after=1)]
    assert told(records) == [("pond", "crazing", 1, 2)]
    records[0] = late("T-1", "crawling")
    assert told(records) == [("pond", "crawling", 1, 4)]


@pytest.mark.parametrize(
    ("trial_defect", "after", "waits"),
    [("crazing", 1, True), ("crazing", 60, False), ("crawling", 1, False)],
)
def test_a_trial_waits_until_a_late_fault_could_show(trial_defect, after, waits):
    of = {"trial_of": "T-1", "trial_defect": trial_defect, "trial_change": "as it was"}
    trial = late("T-2", after=after, **of)
    (fault,) = open_faults([late("T-1", "crazing"), trial])
    assert fault.waiting == ([trial] if waits else [])
