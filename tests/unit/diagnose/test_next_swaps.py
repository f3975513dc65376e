"""Another glaze or clay: how often the fault comes there, by own tiles of it."""

import pytest

from diagnose.next_tiles.changes import candidates
from diagnose.next_tiles.odds import AS_IT_WAS, Like, inspected, like
from diagnose.next_tiles.of_tile import _tile
from diagnose.next_tiles.rating import Rater
from diagnose.next_tiles.swaps import outlook
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OTHER, OWNED, POND, WHITE, proposed, tile
from tiles.records import forms

CRAZED = tile("crazing", coats=4)
TO_WHITE, TO_OTHER = "body red clay -> white clay", "glaze pond -> other jar"


def sound(many, *, failed=0, body=None, defect="crazing", **made):
    """Own tiles, all but the first few of them clean."""
    found = []
    for at in range(many):
        each = tile(defect, **made)
        looks = each.inspections if at < failed else [
            each.inspections[0].model_copy(update={"defects": []})
        ]  # fmt: skip
        on = forms.BodyRecord.model_validate(body) if body else each.body
        values = {"mark": f"S-{at}", "inspections": looks, "body": on}
        found.append(each.model_copy(update=values))
    return found


def rated(change, others=()):
    """What is thought of one change, whether it is worth firing or not."""
    case = why(CRAZED)[0].case
    each = next(c for c in candidates(case.view, case, OWNED) if c.step.changes[0].said == change)
    (found,) = Rater(case, OWNED, inspected(others)).rate_all([each]).rated
    return _tile(case, found, "A")


@pytest.mark.parametrize(
    ("change", "made", "of"),
    [(TO_WHITE, {"body": WHITE}, "pond alone on white clay"),
     (TO_OTHER, {"glaze": OTHER}, "other jar alone on red clay")],
)  # fmt: skip
def test_tiles_of_the_very_pair_count_however_they_were_made(change, made, of):
    bare, known = rated(change), rated(change, sound(6, coats=1, cone="03", **made))
    assert known.like == Like(0, 6, of)
    assert known.chance_known < 0.3 * bare.chance_again
    often = rated(change, sound(6, failed=6, coats=1, cone="03", **made))
    assert often.chance_known > bare.chance_again


def test_tiles_without_a_glaze_on_another_clay_are_counted():
    then = forms.read(forms.TileRecord, {"mark": "B-1", "body": WHITE})
    look = forms.InspectionRecord(inspected_on="2026-03-02")
    whole = then.model_copy(update={"inspections": [look]})
    others = inspected(whole.model_copy(update={"mark": f"W-{at}"}) for at in range(3))
    chance, made = outlook(others, then, 1, "dunting", "body", 0.5)
    assert made == Like(0, 3, "bare clay on white clay")
    assert chance < 0.5


def test_tiles_made_alike_go_before_those_made_otherwise():
    mixed = sound(2, coats=4, body=WHITE) + [
        each.model_copy(update={"mark": f"O-{at}"})
        for at, each in enumerate(sound(4, failed=4, coats=1, body=WHITE))
    ]
    known = rated(TO_WHITE, mixed)
    assert known.like == Like(0, 2)
    assert known.chance_known < rated(TO_WHITE, mixed[2:]).chance_known


@pytest.mark.parametrize(
    ("change", "made", "of"),
    [(TO_WHITE, {"body": WHITE, "glaze": OTHER}, "white clay"),
     (TO_OTHER, {"body": WHITE, "glaze": OTHER}, "other jar")],
)  # fmt: skip
def test_without_such_a_pair_the_new_glaze_or_clay_on_others_bounds_the_chance(change, made, of):
    known = rated(change, sound(16, **made))
    assert known.like == Like(0, 16, of)
    assert known.chance_known < 0.2
    assert rated(change, sound(200, **made)).chance_known > 0.02, "each pair has a fit of its own"


def test_a_glaze_without_any_tile_is_taken_to_be_like_the_others():
    assert rated(TO_OTHER, sound(16)).chance_known < 0.5 * rated(TO_OTHER).chance_again
    assert rated(TO_OTHER, sound(16)).like.tiles == 0


@pytest.mark.parametrize("change", [TO_WHITE, TO_OTHER])
def test_what_an_outcome_means_for_the_causes_does_not_hang_on_tiles_of_another_pair(change):
    made = {"body": WHITE} if change == TO_WHITE else {"glaze": OTHER}
    bare, known = rated(change), rated(change, sound(6, coats=4, **made))
    for after in ("if_again", "if_sound"):
        assert dict(getattr(known, after)) == pytest.approx(dict(getattr(bare, after)))


def ran(mark, cone="05", defects=("running",)):
    made = tile("running", cone=cone, glaze=OTHER).model_copy(update={"mark": mark})
    looks = [{"inspected_on": "2024-05-01", "defects": [{"defect": each} for each in defects]}]
    made.inspections = [forms.InspectionRecord.model_validate(each) for each in looks]
    return made


@pytest.mark.parametrize(
    ("others", "is_left_out"),
    [([ran("R-1")], True), ([ran("R-1", cone="04")], False), ([ran("R-1", defects=())], False),
     ([ran("R-1"), ran("R-2", defects=())], False),
     ([ran("R-1"), ran("R-2"), ran("R-3", defects=())], True)],
)  # fmt: skip
def test_a_glaze_that_ran_on_own_tiles_no_hotter_is_kept_off_the_shelf(others, is_left_out):
    found = proposed(tile("crawling"), others=others)
    change = "glaze pond -> other jar"
    assert any(each.startswith(f"{change}: other jar ran on R-1") for each in found.left_out) is (
        is_left_out
    )
    assert not (is_left_out and change in [each.trial.change for each in found.tiles])


def test_a_witness_cone_half_a_cone_over_the_label_is_about_that_cone():
    found = proposed(tile("crawling", cone="03½"))
    assert found.control is not None and not any("made for cone" in e for e in found.left_out)
    glaze = POND | {"cone_low": "06", "cone_high": "04"}
    over = proposed(tile("crawling", cone="03", glaze=glaze))
    assert over.control is None and "No hotter than cone 04" in over.no_hotter and over.cooler
    assert not found.cooler


def test_tiles_of_another_version_of_a_recipe_are_not_made_alike():
    def of(version, kaolin):
        if version is None:
            return None
        lines = [{"material": "whiting", "parts": 20}, {"material": "kaolin", "parts": kaolin}]
        return forms.RecipeRecord(version=version, lines=lines)

    def made(mark, recipe):
        each = tile("crazing", coats=4)
        area = each.areas[0]
        layers = [area.layers[0].model_copy(update={"recipe": recipe})]
        areas = [area.model_copy(update={"layers": layers})]
        return each.model_copy(update={"mark": mark, "areas": areas})

    own = made("O-1", of(1, 10))
    for recipe, counts in ((of(1, 10), 1), (of(2, 10), 1), (of(2, 30), 0), (of(None, 0), 1)):
        others = inspected([made("O-2", recipe)])
        assert like(others, own, 1, "crazing", AS_IT_WAS).tiles == counts
