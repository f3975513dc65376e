"""The limit of a body from its own tiles: counts, ranges, and silence where nothing can be told."""

import pytest

from diagnose.body_limit.fit import Seen, believe, chance_and_worth, fit
from diagnose.body_limit.tiles import EARLY, seen_on_body
from diagnose.body_limit.words import looked_at
from tiles.records import forms

CRAZING_LINES = "high alkali frit=70; kaolin=10; silica=20"
TIGHT_LINES = "calcium borate frit=60; kaolin=15; silica=25"


def tile(expansion, happened, glaze=None, half=0.6):
    name = glaze or f"glaze {expansion}"
    return Seen(name, expansion, expansion - half, expansion + half, happened)


def ladder(limit, values, defect="crazing"):
    rises = defect == "crazing"
    return [tile(x, (x > limit) == rises) for x in values]


STEPS = [5.8, 6.0, 6.2, 6.4, 6.6, 6.8, 7.0, 7.2, 7.4, 7.6]


def test_limit_lies_between_the_sound_and_the_crazed_glazes():
    found = fit(ladder(6.7, STEPS))
    assert found.low < 6.7 < found.high
    assert found.value == pytest.approx(6.7, abs=0.1)
    assert (found.failed, found.sound, found.glazes) == (5, 5, 10)


def test_shivering_is_found_below_its_limit_and_is_safe_above():
    found = fit(ladder(4.5, [3.5, 3.8, 4.1, 4.4, 4.7, 5.0, 5.3, 5.6], "shivering"), "shivering")
    assert found.low < 4.5 < found.high
    assert found.safe_ppm_per_k == found.high
    assert "shivers below" in found.say


def test_a_safe_glaze_stays_under_the_low_end_of_the_crazing_range():
    found = fit(ladder(6.7, STEPS))
    assert found.safe_ppm_per_k == found.low < found.value


def test_words_carry_estimate_range_and_counts():
    found = fit(ladder(6.7, STEPS))
    assert found.say == (
        f"crazes above {found.value:.1f} ({found.low:.1f} to {found.high:.1f}) ppm/K in your "
        "kiln: 5 crazed, 5 sound tiles of 10 glazes"
    )


@pytest.mark.parametrize(
    ("seen", "missing"),
    [
        ([], "no inspected tile has a glaze whose recipe is understood"),
        (ladder(6.7, STEPS[3:7]), "6 tiles of 3 glazes"),
        ([tile(6.0, False, "a")] * 5 + [tile(7.0, True, "b")] * 5, "6 tiles of 3 glazes"),
        (ladder(9.0, STEPS), "glazes of higher expansion"),
        (ladder(3.0, STEPS), "glazes of lower expansion"),
        (ladder(7.5, STEPS), "1 crazed, 9 sound tiles of 10 glazes; glazes of higher expansion"),
    ],
)
def test_no_number_is_invented_where_tiles_do_not_tell(seen, missing):
    found = fit(seen)
    assert (found.value, found.low, found.high) == (None, None, None)
    assert missing in found.say


def test_many_tiles_of_few_glazes_say_less_than_as_many_glazes():
    values = [6.2, 6.5, 6.8, 7.1]
    few = fit([tile(x, x > 6.7, f"glaze {x}") for x in values for _ in range(10)])
    many = fit([tile(6.0 + at * 0.035, at > 20) for at in range(40)])
    assert few.high - few.low > 1.3 * (many.high - many.low)


def test_wider_error_of_the_computed_values_gives_a_wider_range():
    sharp = fit([tile(x, x > 6.7, half=0.2) for x in STEPS])
    vague = fit([tile(x, x > 6.7, half=1.2) for x in STEPS])
    assert vague.high - vague.low > 1.5 * (sharp.high - sharp.low)


def test_one_tile_out_of_line_does_not_move_the_limit_far():
    seen = ladder(6.7, STEPS * 2)
    assert fit([*seen, tile(5.6, True)]).value == pytest.approx(fit(seen).value, abs=0.25)


def test_measured_body_expansion_only_says_where_to_look_first():
    near, far = fit(ladder(6.7, STEPS), "crazing", 6.7), fit(ladder(6.7, STEPS), "crazing", 9.5)
    assert near.low < 6.7 < near.high
    assert abs(near.value - far.value) < 0.35


def test_most_is_learned_from_a_glaze_near_the_limit():
    belief = believe(ladder(6.7, STEPS), "crazing")
    near = chance_and_worth(belief, "crazing", 6.7, 6.4, 7.0)
    far = chance_and_worth(belief, "crazing", 9.5, 9.2, 9.8)
    assert 0.3 < near[0] < 0.7
    assert far[0] > 0.95
    assert near[1] > 5 * far[1]


def test_a_glaze_that_always_crazed_here_is_expected_to_craze_whatever_was_computed():
    seen = [tile(5.3, True, "mid clear")] * 8 + [tile(6.1, False, "oat matt")] * 3
    seen += [tile(5.5, False, "iron brown")] * 2
    belief = believe(seen, "crazing")
    told = {
        name: chance_and_worth(belief, "crazing", value, value - 0.9, value + 0.9, name)[0]
        for name, value in (("mid clear", 5.3), ("oat matt", 6.1), ("new one", 5.3))
    }
    assert told["mid clear"] > 0.85
    assert told["oat matt"] < 0.25
    assert told["oat matt"] < told["new one"] < told["mid clear"]


def test_tiles_that_run_against_one_limit_are_said_to():
    seen = [tile(5.3, True, "mid clear")] * 8 + [tile(6.1, False, "oat matt")] * 3
    assert fit([*seen, tile(5.5, False, "iron brown")]).say.endswith("so doubt it")
    assert "doubt" not in fit(ladder(6.7, STEPS)).say
    turned = [tile(x, x > 4.5) for x in (3.5, 3.9, 4.3, 4.7, 5.1, 5.5)]
    assert "work out higher" in fit(turned, "shivering").say


def record(mark, lines, *, defects=(), late=(), body="red clay", glaze=None, layers=None):
    name = glaze or lines.split("=")[0]
    parts = [each.split("=") for each in lines.split("; ")]
    recipe = {"lines": [{"material": m, "parts": float(p)} for m, p in parts]}
    looks = [{"inspected_on": "2024-01-10", "defects": [{"defect": d} for d in defects]}]
    if late:
        looks.append({"inspected_on": "2025-01-10", "defects": [{"defect": d} for d in late]})
    return forms.TileRecord.model_validate(
        {
            "mark": mark,
            "body": body,
            "areas": [
                {
                    "number": 1,
                    "layers": layers
                    or [{"glaze": {"name": name, "kind": "recipe"}, "recipe": recipe}],
                }
            ],
            "inspections": looks,
        }
    )


def test_late_crazing_counts_as_crazed():
    seen, untold = seen_on_body([record("A-1", CRAZING_LINES, late=["crazing"])], "Red Clay")
    assert [each.happened for each in seen] == [True]
    assert untold == {}


def test_other_bodies_and_uninspected_tiles_do_not_count():
    other = record("A-1", CRAZING_LINES, body="white clay")
    unseen = record("A-2", CRAZING_LINES).model_copy(update={"inspections": []})
    assert seen_on_body([other, unseen], "red clay") == ([], {})


def test_jars_layered_glazes_and_unknown_materials_are_counted_as_untold():
    jar = [{"glaze": {"name": "pond green", "kind": "jar"}}]
    two = [{"glaze": "one"}, {"glaze": "two"}]
    records = [
        record("A-1", CRAZING_LINES, layers=jar),
        record("A-2", CRAZING_LINES, layers=two),
        record("A-3", "high alkali frit=70; moon dust=30"),
    ]
    records.append(record("A-4", CRAZING_LINES, layers=two))
    seen, untold = seen_on_body(records, "red clay")
    assert (seen, list(untold.items())) == ([], [
        ("with one glaze over another", 2),
        ("from a jar (recipe not known)", 1),
        ("with a recipe that is not understood", 1),
    ])  # fmt: skip


def test_two_areas_of_one_glaze_are_one_tile():
    once = record("A-1", CRAZING_LINES)
    area = once.areas[0]
    both = once.model_copy(update={"areas": [area, area.model_copy(update={"number": 2})]})
    seen, _ = seen_on_body([both, record("A-2", TIGHT_LINES)], "red clay")
    assert len(seen) == 2


def test_own_analyses_go_before_the_shipped_ones():
    from tiles.chemistry import materials

    mine = materials.from_analysis("moon dust", {"SiO2": 70, "Na2O": 20, "CaO": 10}, source="bag")
    lines = "high alkali frit=70; moon dust=30"
    seen, untold = seen_on_body([record("A-1", lines)], "red clay", own=(mine,))
    assert (len(seen), untold) == (1, {})


def test_what_cannot_count_is_told_of_each_fault_where_they_differ():
    failed, jars = {"crazing": 1, "shivering": 0}, {"from a jar": 2}
    alike = looked_at(failed, 9, {"crazing": jars, "shivering": jars}, "")
    assert alike.endswith("none shivered; 2 of them, from a jar, cannot count towards a limit")
    apart = looked_at(failed, 9, {"crazing": jars | {EARLY: 1}, "shivering": jars}, "")
    assert apart.endswith(
        "; 3 of them cannot count towards where it crazes: 2 from a jar, 1 looked at too early; "
        "2 of them, from a jar, cannot count towards where it shivers"
    )
    assert looked_at(failed, 9, {"crazing": {}, "shivering": {}}, "").endswith("none shivered")
    said = "where it crazes cannot be told yet: the {} with {} looked at too early"
    assert fit([], early=4).say == said.format("4 tiles", "known recipes were")
    assert fit([], early=1).say == said.format("1 tile", "a known recipe was")
