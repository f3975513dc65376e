"""Since when a fault comes: a day that parts the tiles, told beside what may be its cause."""

import random
from datetime import date, timedelta

from diagnose.comparing.counted import DAY, Counted
from diagnose.comparing.over_tiles import over_tiles
from diagnose.comparing.set_apart import differences
from diagnose.report import why
from tests.unit.diagnose.test_over_tiles import noise
from tiles.cli import why_full, why_screen
from tiles.records.forms import TileRecord

START = date(2024, 1, 10)


def tile(number, failed, *, body="red", batch=None, fired=True):
    """One of a firing in every second week."""
    day = START + timedelta(days=14 * number)
    layer = {"glaze": "pond green", "coats": 2, "batch": batch}
    return TileRecord.model_validate(
        {
            "mark": f"T-{number}-{body}",
            "body": body,
            "firing": {"name": f"F{number}", "fired_on": day if fired else None},
            "areas": [{"number": 1, "layers": [layer]}],
            "inspections": [
                {"inspected_on": day + timedelta(days=1),
                 "defects": [{"defect": "crawling"}] if failed else []}
            ],
        }
    )  # fmt: skip


def fails(number):
    """Never in the first 14 firings, then in most."""
    return number >= 14 and number % 4 != 3


def found(records):
    return over_tiles(records, "pond green", "crawling")


def clear(told):
    return [each.name for each in told.differences if each.is_firm or each.is_hint]


def test_a_day_that_parts_the_tiles_is_told_as_what_points_at_a_change():
    told = found([tile(n, fails(n)) for n in range(26)])
    day = told.differences[0]
    assert (day.name, day.is_firm, clear(told)) == (DAY, True, [DAY])
    assert (day.without_failed, day.without_all, day.with_failed, day.with_all) == (0, 14, 9, 12)
    assert told.say.endswith(
        "Fired until 2024-07-10: 0 of 14 tiles crawled; fired from 2024-07-24 on: 9 of 12 (chance "
        "would do this less than 1 time in 1000, all taken together). A day is no cause: what "
        "changed about then, such as a new bag of clay, new elements or a new jar?"
    )


def test_what_other_day_a_tile_has_does_not_stand_for_that_of_its_firing():
    assert not clear(found([tile(n, fails(n), fired=False) for n in range(26)]))


def test_a_batch_that_parts_them_as_well_takes_the_place_of_the_day():
    told = found([tile(n, fails(n), batch="AB"[n >= 14]) for n in range(26)])
    assert clear(told) == ["batch"]
    # Also where the best day parts them better by luck: one sound tile of the new batch before it.
    told = found([tile(n, fails(n) and n > 14, batch="AB"[n >= 14]) for n in range(26)])
    assert clear(told) == ["batch"]


def test_a_clay_is_told_first_and_the_day_where_it_parts_tiles_of_that_clay():
    records = [tile(n, fails(n) and body == "red", body=body) for n in range(26)
               for body in ("red", "white")]  # fmt: skip
    assert clear(found(records)) == ["body", DAY]


def test_one_bad_firing_at_the_end_is_told_by_its_name():
    records = [tile(min(n, 12), n >= 12) for n in range(19)]
    for n, each in enumerate(records):
        each.mark = f"T-{n}"
    assert clear(found(records)) == ["firing"]


def test_what_was_first_used_about_then_is_named_where_most_failed_with_it():
    batches = {n: "B2" for n in range(15, 26)} | {16: "B3"}
    told = found([tile(n, fails(n), batch=batches.get(n)) for n in range(26)])
    assert told.say.endswith("or a new jar? First used about then: batch B2.")
    began_long_before = [tile(n, fails(n), batch="B2" if n > 8 else None) for n in range(26)]
    assert "First used" not in found(began_long_before).say


def test_a_fault_that_is_gone_since_a_day_is_told_so_too():
    told = found([tile(n, fails(25 - n), batch="B2" if n > 11 else None) for n in range(26)])
    assert "fired from 2024-06-26 on: 0 of 14" in told.say
    assert told.say.endswith("First used about then: batch B2.")


def test_noise_with_a_day_of_its_own_each_seems_clear_on_less_than_one_glaze_in_ten():
    rng = random.Random(12)
    alarms = days = 0
    for _ in range(150):
        tiles = [noise(rng, n) for n in range(18)]
        for each in tiles:
            each.firing.fired_on = START + timedelta(days=rng.randint(0, 700))
        areas = [Counted(each, each.areas[0], rng.random() < 0.4) for each in tiles]
        firm = [each.name for each in differences(areas, "crawling") if each.is_firm]
        alarms, days = alarms + bool(firm), days + (DAY in firm)
    assert 0 < alarms < 15
    assert days < 5


def told_of(number, records):
    """What `tiles why MARK` says of the tile of this firing that failed."""
    (record,) = [each for each in records if each.mark == f"T-{number}-red"]
    return why(record, None, [each for each in records if each is not record])[0]


def test_a_failed_tile_tells_the_day_too_by_its_own_clay():
    records = [tile(n, fails(n) and body == "red", body=body) for n in range(26)
               for body in ("red", "white")]  # fmt: skip
    said = (
        "On red, fired until 2024-07-10: 0 of 14 tiles crawled; fired from 2024-07-24 on: 8 of 11. "
        "What changed about then?"
    )
    found = told_of(20, records)
    assert found.case.since == found.as_dict()["since"] == said
    screen = " ".join(" ".join(why_screen.lines(found.case.record, [found])).split())
    assert f"since when {said}" in screen
    assert said in " ".join(" ".join(why_full.lines(found.case.record, [found])).split())


def test_it_is_silent_where_a_batch_tells_it_all_or_the_tile_is_of_the_better_days():
    of_batch = [tile(n, fails(n), batch="AB"[n >= 14]) for n in range(26)]
    assert not told_of(20, of_batch).case.since
    early = [tile(n, fails(n) or n == 3) for n in range(40)]
    assert told_of(20, early).case.since and not told_of(3, early).case.since
    undated = [tile(n, fails(n), fired=False) for n in range(26)]
    assert told_of(20, undated).as_dict()["since"] is None


def test_chance_makes_a_failed_tile_tell_of_a_day_seldom():
    chance, told = random.Random(3), 0
    for _ in range(60):
        records = [tile(n, chance.random() < 0.4) for n in range(24)]
        failed = [each for each in records if each.inspections[0].defects]
        told += any(told_of(int(each.mark.split("-")[1]), records).case.since
                    for each in failed[-1:])  # fmt: skip
    assert told <= 4
