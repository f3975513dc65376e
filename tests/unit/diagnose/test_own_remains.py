"""A count by kiln, shelf or batch where another fact parts the same tiles as well."""

from dataclasses import replace

import pytest

from diagnose.own_tiles.say import your_tiles_say
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.why_counts import counts

NOTHING_BEYOND = "their batch tells nothing beyond that"


def made(numbers, *, jar, under=None, failed=False, **changed):
    layers = [{"glaze": "pond", "coats": 2, "batch": {"name": jar}}]
    if under:
        ink = {"name": under, "kind": "jar", "role": "underglaze"}
        layers = [{"glaze": ink, "coats": 2}, *layers]
    areas = [{"number": 1, "layers": layers}]
    return [
        tile(n, defects=["crawling"] * failed, areas=areas, **changed) for n in numbers
    ]  # fmt: skip


def diagnosed(records):
    (told,) = why(records[0], None, records[1:])
    return told, {row.name: row.own for row in told.case.rows if row.own}


def test_the_underglaze_is_told_and_not_the_batch_that_goes_with_it():
    """One of five colours crawled, each time from the old batch, where one without it did not."""
    records = made(range(100, 106), jar="old", under="ink", failed=True)
    for at, name in enumerate(("moss", "brick", "sand", "sky")):
        records += made(range(200 + 10 * at, 203 + 10 * at), jar="new", under=name)
    by_name = {
        each.measure: each for each in your_tiles_say(records, records[0], 1, "crawling").lessons
    }
    assert by_name["batch"].chance < by_name["under"].chance  # one cut of it, five of the colours
    told, moved = diagnosed(records)
    assert [each.measure for each in told.case.own.lessons] == ["under"]
    assert set(moved) == {"colour_beneath"}
    assert counts(told)[0].in_full.startswith(
        "Of 12 others over another layer or bare clay none crawled, of 5 like this one, over ink, "
        f"5 did; {NOTHING_BEYOND}. That speaks for:"
    )


def test_a_batch_that_parts_tiles_over_the_same_underglaze_is_told_beside_it():
    records = made(range(100, 107), jar="old", under="ink", failed=True)
    records += made(range(200, 206), jar="new", under="ink")
    records += made(range(300, 310), jar="old") + made(range(400, 410), jar="new")
    told, _ = diagnosed(records)
    assert "batch" in {each.measure for each in told.case.own.lessons}
    assert NOTHING_BEYOND not in " ".join(each.in_full for each in counts(told))


def test_a_batch_that_fails_less_often_than_another_over_the_same_underglaze_is_not_blamed():
    """The old one fails oftener in all only because most of the new one went on bare clay."""
    records = made(range(100, 110), jar="old", under="ink", failed=True)
    records += made(range(200, 208), jar="old", under="ink")
    records += made(range(300, 308), jar="new", under="ink", failed=True)
    records += made(range(400, 440), jar="new")
    told, moved = diagnosed(records)
    assert [each.measure for each in told.case.own.lessons] == ["colour_coats_beneath"]
    assert NOTHING_BEYOND in told.case.own.lessons[0].say and "revived_jar" not in moved


def test_a_batch_that_parts_the_tiles_better_than_the_underglaze_is_told():
    records = made(range(100, 107), jar="old", under="ink", failed=True)
    records += made(range(200, 203), jar="new", under="ink") + made(range(400, 410), jar="new")
    told, moved = diagnosed(records)
    assert "batch" in {each.measure for each in told.case.own.lessons}
    assert moved["revived_jar"] > 1


def test_a_fact_whose_causes_are_ruled_out_explains_nothing():
    records = made(range(100, 107), jar="old", under="ink", failed=True)
    records += made(range(200, 207), jar="new", under="moss")
    records[0].clues["only_over_colour"] = "no"
    told, moved = diagnosed(records)
    (beneath,) = (row for row in told.case.rows if row.name == "colour_beneath")
    assert replace(beneath, own=0.0).is_ruled_out  # as far as the record goes
    assert "batch" in {each.measure for each in told.case.own.lessons}
    assert "revived_jar" in moved


@pytest.mark.parametrize("place", ["kiln", "shelf"])
def test_a_kiln_or_shelf_tells_nothing_beyond_what_stood_there_alone(place):
    def there(name):
        firing = {"name": f"F {name}", "kiln": name if place == "kiln" else "big"}
        return {"firing": firing, "shelf": name if place == "shelf" else "low"}

    records = made(range(100, 107), jar="old", under="ink", failed=True, **there("one"))
    records += made(range(200, 207), jar="old", under="moss", **there("two"))
    told, _ = diagnosed(records)
    assert [each.measure for each in told.case.own.lessons] == ["under"]
    assert f"their {place} tells nothing beyond that." in told.case.own.lessons[0].say
