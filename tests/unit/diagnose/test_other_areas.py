"""A change that another area of the failed tile has made already: in vain where it failed too."""

from dataclasses import replace

import pytest

from diagnose.fixes.bench import Bench
from diagnose.fixes.of_tile import fix
from diagnose.fixes.steps_coat import thicker, thinner
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.own_tiles.other_areas import by_coats, coats_do_nothing, only_on_overlap
from diagnose.report import why
from diagnose.view import View, area_of
from tests.unit.diagnose.test_next_tiles import OTHER, OWNED, POND, RED, proposed
from tiles.cli import next_text
from tiles.cli.fix_plan import Marked
from tiles.records import forms

LEAF = {"name": "leaf", "kind": "jar", "role": "underglaze"}


def grid(layers, failed, defect="crawling", **more):
    """A tile of several areas, of which these failed; None: logged for the whole tile."""
    seen = [{"defect": defect, "area": number} for number in failed]
    return forms.TileRecord.model_validate(
        {
            "mark": "T-1",
            "body": RED,
            "bisque_cone": "06",
            "cone_reached": "05",
            "areas": [
                {"number": at, "layers": each if isinstance(each, list) else [each]}
                for at, each in enumerate(layers, start=1)
            ],
            "inspections": [{"inspected_on": "2024-05-01", "defects": seen}],
            **more,
        }
    )


def coats(*numbers, **more):
    return [{"glaze": POND, "coats": each, **more} for each in numbers]


def view_of(record, defect="crawling"):
    return View(record, area_of(record, why(record)[0].case.area_number), defect)


def changes(record, **more):
    return [each.trial.change for each in proposed(record, **more).tiles]


def of_fix(record):
    return [trial.change for trial in fix(record, glazes=OWNED.glazes)[0].trials]


def advice(record):
    return " ".join(why(record)[0].causes[0].fixes)


def test_one_coat_less_is_not_proposed_where_an_area_with_one_less_failed_too():
    record = grid(coats(1, 2, 3), [2, 3])
    assert "coats 3 -> 2" not in [*changes(record), *of_fix(record)]
    assert "coats 3 -> 1" in of_fix(record)
    assert "ne coat less" not in advice(record)
    assert "Coats 3 -> 1: so area 1 of this tile came out sound." in advice(record)
    assert "coats 3 -> 2 (area 2 of it)" in proposed(record).made


def test_where_nobody_looked_at_the_areas_one_by_one_it_still_is():
    record = grid(coats(1, 2, 3), [None])
    assert by_coats(view_of(record)) == {}
    assert not proposed(record).made


@pytest.mark.parametrize(("defect", "worst"), [("crawling", 3), ("underfired", 2)])
def test_no_change_of_coats_where_it_failed_with_one_two_and_three(defect, worst):
    record = grid(coats(1, 2, 3), [1, 2, 3], defect)
    record.inspections[0].defects[worst - 1].severity = "severe"
    for each in record.inspections[0].defects:
        each.severity = each.severity or "slight"
    assert coats_do_nothing(view_of(record, defect))
    told = fix(record, glazes=OWNED.glazes)[0]
    every = [each.tile["trial_change"] for each in told.trials] + changes(record)
    assert every and not any("coats" in each for each in every)
    cause = next(each for each in why(record)[0].causes if each.name.startswith("coat_too_th"))
    said = "No change of coats: it came with 1, 2 and 3 coats on this tile."
    assert cause.is_ruled_out is (defect == "underfired")  # three coats are enough
    assert cause.fixes == ([] if cause.is_ruled_out else [said])


def test_two_numbers_of_coats_say_nothing_of_a_third():
    record = grid(coats(1, 2), [1, 2], "underfired")
    assert not coats_do_nothing(view_of(record, "underfired"))
    assert thicker(Bench(view_of(record, "underfired"), "", "")).changes[0].after == 3


def test_more_coats_go_on_to_those_that_are_not_tried():
    record = grid(coats(1, 2, 3), [1, 2], "underfired")
    record.inspections[0].defects[0].severity = "severe"  # so that area 1 is looked at
    made = thicker(Bench(view_of(record, "underfired"), "", ""))
    assert [each.said for each in made.changes] == ["coats 1 -> 3"]


def test_an_area_of_other_layers_or_surface_shows_nothing_of_the_coats():
    for other in ({"glaze": OTHER, "coats": 2}, [{"glaze": LEAF}, {"glaze": POND, "coats": 2}]):
        record = grid([other, *coats(3)], [1, 2])
        assert not proposed(record).made
    record = grid(coats(2, 3), [1, 2])
    assert "coats 3 -> 2" not in of_fix(record)
    record.areas[0].surface = "textured"
    assert not proposed(record).made


def test_as_many_coats_of_another_thickness_are_no_trial_of_it():
    layers = [*coats(2, thickness_mm=1.2), *coats(3, thickness_mm=1.3)]
    made = thinner(Bench(view_of(grid(layers, [1, 2])), "", ""))
    assert made.changes[0].said == "coats 3 -> 2" and made.changes[-1].after < 1.1


@pytest.mark.parametrize(
    ("third", "is_known"),
    [
        ({"glaze": OTHER}, True),
        ([{"glaze": OTHER}, {"glaze": LEAF}], False),
        ({"glaze": LEAF}, False),
    ],
    ids=["the other glaze alone", "under a colour", "the colour alone"],
)
def test_only_an_area_of_each_glaze_alone_shows_that_it_is_their_overlap_that_fails(
    third, is_known
):
    both = [{"glaze": OTHER}, {"glaze": POND}]
    record = grid([both, {"glaze": POND}, third], [1])
    assert only_on_overlap(view_of(record)) is is_known


@pytest.mark.parametrize(("failed", "is_proposed"), [([2], True), ([1, 2], False)])
def test_another_glaze_or_jar_on_the_same_tile_was_tried_there(failed, is_proposed):
    for layer in ({"glaze": OTHER, "coats": 3}, {"glaze": POND, "coats": 3, "batch": "jar A"}):
        record = grid([layer, {"glaze": POND, "coats": 3, "batch": "jar B"}], failed)
        record.inspections[0].defects[-1].severity = "severe"
        jars = [forms.BatchRecord(name=name) for name in ("jar B", "jar A")]
        owned = one_clay(jars)
        change = "glaze pond -> other jar" if "batch" not in layer else "batch jar B -> jar A"
        found = next_tiles(why(record)[0], owned)
        told = [each for each in found.tiles if each.trial.change == change]
        assert bool(told) is is_proposed
        assert any(each.startswith(change) for each in found.made) is not is_proposed
        assert [each.sound_areas for each in told] == [(1,)] * is_proposed


def one_clay(jars):
    return replace(OWNED, bodies=OWNED.bodies[:1], batches={"pond": jars})


def test_the_areas_of_the_tile_itself_are_counted_first():
    record, alone = grid(coats(1, 3), [2]), grid(coats(3), [1])
    three_to_one = next(each for each in proposed(record).tiles if "-> 2" in each.trial.change)
    assert three_to_one.sound_areas == ()
    record = grid(coats(1, 2, 3), [2, 3])
    told = proposed(record)
    known = next(each for each in told.tiles if each.trial.change == "coats 3 -> 1")
    assert known.sound_areas == (1,)
    marked = [Marked(f"N-{at}", "crawling", each) for at, each in enumerate(told.trials)]
    screen = " ".join(" ".join(next_text.screen(told, marked, is_planned=False)).split())
    assert "; its own area 1 did not)" in screen
    values = next_text.as_dict(told, marked)["tiles"]
    assert [1] in [each["sound_areas"] for each in values]
    assert all(each.sound_areas == () for each in proposed(alone).tiles)
