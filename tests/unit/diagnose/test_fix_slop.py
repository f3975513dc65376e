"""Steps at the bucket: a slop thinned for a thinner coat, or thickened again."""

from dataclasses import replace

import pytest

from diagnose.fixes.steps import steps_for
from diagnose.fixes.steps_jar import watery_jar
from diagnose.fixes.trials import step_trial
from diagnose.report import why
from tests.unit.diagnose.test_fix_steps import _bench, _changes
from tiles.records import forms

COLOUR_SHIFT = forms.InspectionRecord(
    inspected_on="2024-05-01", defects=[forms.DefectSeen(defect="colour shift")]
)


def test_a_bucket_gets_a_lower_specific_gravity_when_dipped_but_not_when_brushed():
    batch = {"name": "B", "specific_gravity": 1.55}
    assert _changes("coat_too_thick", layer={"batch": batch})["specific gravity"] == (1.55, 1.4)
    brushed = _changes("coat_too_thick", layer={"batch": batch, "method": "brush"})
    assert "specific gravity" not in brushed


@pytest.mark.parametrize(
    ("gravity", "mm", "own", "after"),
    [
        (1.6, 1.49, None, 1.48),  # half the coat is far more than 0.05 less
        (1.6, 1.49, 1.45, 1.45),  # a bucket on record near it
        (1.6, 1.49, 1.3, 1.48),
        (1.5, 0.85, None, 1.44),
        (1.42, 1.6, None, 1.37),
        (1.48, 2.5, None, 1.4),  # watery below
        (1.9, 1.6, None, 1.85),
    ],
)
def test_a_dipped_coat_in_mm_tells_how_far_its_slop_is_thinned(gravity, mm, own, after):
    batch = {"name": "now", "specific_gravity": gravity}
    layer = {"coats": None, "thickness_mm": mm, "method": "dip", "batch": batch}
    bench = _bench("coat_too_thick", layer=layer)
    if own:
        others = [
            forms.BatchRecord.model_validate(batch | {"name": "May", "specific_gravity": own})
        ]
        bench = replace(bench, batches=others)
    (step,) = steps_for(bench)
    assert step.changes[-1].after == after
    assert step.title.endswith("as May had it") == (own == after)


def test_of_two_buckets_on_record_the_one_nearest_to_what_is_reckoned_is_taken():
    layer = {"coats": None, "thickness_mm": 1.49, "batch": {"name": "now", "specific_gravity": 1.6}}
    batches = [
        forms.BatchRecord(name=name, specific_gravity=gravity)
        for name, gravity in (("April", 1.44), ("May", 1.47))
    ]
    (step,) = steps_for(replace(_bench("coat_too_thick", layer=layer), batches=batches))
    assert step.changes[-1].after == 1.47  # of 1.48
    assert step.title.endswith("as May had it")


@pytest.mark.parametrize(("mm", "is_told"), [(1.0, False), (1.6, True), (3.5, True)])
def test_what_a_slop_as_thin_as_may_be_leaves_too_thick_is_left_to_the_dip(mm, is_told):
    batch = {"name": "B", "specific_gravity": 1.45}
    layer = {"batch": batch, "method": "dip", "thickness_mm": mm, "coats": None}
    (step,) = steps_for(_bench("coat_too_thick", layer=layer))
    assert step.title.endswith("; the rest by a shorter dip") is is_told


def test_fewer_coats_and_a_thinner_slop_are_two_steps():
    batch = {"name": "B", "specific_gravity": 1.55}
    coats, slop = steps_for(_bench("coat_too_thick", layer={"batch": batch}))
    assert [each.what for each in coats.changes] == ["coats", "dry coat"]
    assert [each.said for each in slop.changes] == ["specific gravity 1.55 -> 1.4"]
    assert slop.title == "Thinner slop, 375 g of water more a litre"
    (both,) = steps_for(_bench("coat_too_thick", layer={"batch": batch, "coats": 1}))
    assert [each.what for each in both.changes] == ["dry coat", "specific gravity"]


@pytest.mark.parametrize(
    ("method", "gravity", "is_mended"),
    [("dip", 1.28, True), ("brush", 1.28, True), (None, 1.28, True), ("dip", 1.42, True),
     ("brush", 1.42, False), ("spray", 1.28, False), ("dip", 1.45, False)],
)  # fmt: skip
def test_a_slop_that_was_thinned_too_far_is_thickened_by_taking_water_off(
    method, gravity, is_mended
):
    layer = {"coats": 2, "thickness_mm": 0.3, "method": method,
             "batch": {"name": "B", "specific_gravity": gravity}}  # fmt: skip
    bench = _bench("coat_too_thin", defect="colour shift", layer=layer)
    # Two dips are more than is usual, so that the bucket is mended first.
    (coats,), slop = (
        [each for each in steps_for(bench) if (each.key == "thicker") is is_coat]
        for is_coat in (True, False)
    )
    assert [each.what for each in coats.changes] == ["coats", "dry coat"]
    said = [each.changes[0].said for each in slop]
    wanted, off = ("1.6", 533) if method == "brush" else ("1.45", 378)
    assert said == ([f"specific gravity {gravity:g} -> {wanted}"] if is_mended else [])
    if gravity == 1.28 and is_mended:
        assert f"settle and take off {off} g of clear water a litre" in slop[0].title
        assert ("brushing jar has about 1.6" in slop[0].title) is (method is None)
        assert ("gum" in slop[0].spoils) is (method != "dip")
        planned = step_trial(bench, slop[0]).tile
        note = planned["note"]
        assert "batch" not in planned["areas"][0]["layers"][0], "it is another bucket then"
        assert note.startswith("Glaze from part of B, settled and drawn off first.")
        (told,) = why(bench.record.model_copy(update={"inspections": [COLOUR_SHIFT]}))
        assert told.causes[0].fixes[0].startswith(f"{slop[0].title}: {said[0]}.")
        assert ("takes gum along" in told.causes[0].fixes[0]) is (method != "dip")
        assert "1.45 to 1.55 for dipping, about 1.6 for brushing" in " ".join(told.causes[0].for_)


@pytest.mark.parametrize(
    ("coats", "mm", "gravity", "first"),
    [
        (3, 0.3, 1.32, "specific gravity 1.32 -> 1.6"),
        (2, 0.3, 1.32, "coats 2 -> 4"),  # fewer than are usual
        (3, 0.5, 1.32, "coats 3 -> "),
        (3, 0.3, None, "coats 3 -> 5"),
    ],
)
def test_many_coats_and_few_mm_are_a_matter_of_the_slop_first(coats, mm, gravity, first):
    """Three brush coats of a usual slop make 0.5 mm or more (common practice, no source)."""
    layer = {"coats": coats, "thickness_mm": mm, "method": "brush",
             "batch": {"name": "B", "specific_gravity": gravity}}  # fmt: skip
    bench = _bench("coat_too_thin", defect="colour shift", layer=layer)
    assert steps_for(bench)[0].changes[0].said.startswith(first)
    is_watery = (coats, mm, gravity) == (3, 0.3, None)
    assert bool(watery_jar(bench.view)) is is_watery
    assert any("weigh 100 mL" in each.title for each in steps_for(bench)) is is_watery
    (told,) = why(bench.record.model_copy(update={"inspections": [COLOUR_SHIFT]}))
    advised = " ".join(told.causes[0].fixes)
    assert ("3 coats came to 0.3 mm" in advised and "160 g for brushing" in advised) is is_watery
    assert ("Three even coats" in advised) is (coats == 2)
