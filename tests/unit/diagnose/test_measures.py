import pytest

from diagnose.measures.of_area import measures
from diagnose.view import View, setting
from diagnose.vocabulary import measure_words
from tiles.errors import UnknownName
from tiles.records.forms import TileRecord

GREEN = {
    "name": "pond green",
    "kind": "jar",
    "role": "glaze",
    "finish": "gloss",
    "cone_low": "06",
    "cone_high": "04",
}
BLACK = {"name": "black", "role": "underglaze"}


def tile(**fields):
    fields.setdefault("mark", "T-1")
    fields.setdefault("body", "red earthenware")
    return TileRecord.model_validate(fields)


def area(number=1, *layers, **fields):
    return {"number": number, "layers": list(layers), **fields}


def values(record, number=None, defect=None):
    return {name: each.value for name, each in measures(record, number, defect).items()}


def test_an_empty_record_has_no_measures():
    assert measures(tile()) == {}


def test_nothing_is_filled_in_for_a_layer_with_only_a_name():
    found = values(tile(areas=[area(1, {"glaze": "morning mist"})]))
    assert found == {"glazes_on_area": 1, "colour_coats_beneath": 0}


def test_every_measure_has_words_and_a_unit_from_the_vocabulary():
    record = tile(
        form="flat",
        stood="upright",
        body={"name": "b", "kind": "earthenware", "colour": "red", "absorption_pct": 13},
        bisque_cone="06",
        bisque_firing={"name": "B1", "rate_c_per_h": 100, "hold_min": 10},
        firing={"name": "F1", "target_cone": "05", "hold_min": 0, "opened_c": 90},
        cone_reached="05",
        areas=[area(1, {"glaze": GREEN, "coats": 3, "thickness_mm": 1.6}, surface="smooth")],
    )
    found = measures(record)
    assert set(found) <= set(measure_words())
    assert found["thickness_mm"].said == "coat 1.6 mm dry, as applied"
    assert found["thickness_mm"].unit == "mm"
    assert found["hold_min"].said == "no hold"


@pytest.mark.parametrize(
    ("fields", "reached"),
    [
        ({"cone_reached": "04", "firing": {"name": "F", "target_cone": "05"}}, "04"),
        ({"firing": {"name": "F", "target_cone": "05"}}, None),
        ({"firing": {"name": "F", "witness_cones": [{"cone": "06"}]}}, "06"),
        ({"firing": {"name": "F", "witness_cones": [{"shelf": "top", "cone": "06"}]}}, None),
        (
            {
                "shelf": "Bottom",
                "firing": {
                    "name": "F",
                    "witness_cones": [
                        {"shelf": "top", "cone": "06"},
                        {"shelf": "bottom", "cone": "04"},
                    ],
                },
            },
            "04",
        ),
    ],
)
def test_the_cone_reached_is_read_from_a_cone_never_from_the_target(fields, reached):
    assert values(tile(**fields)).get("cone_reached") == reached


def test_cones_are_compared_as_steps_not_numbers():
    record = tile(
        firing={"name": "F", "target_cone": "05"},
        cone_reached="5",
        areas=[area(1, {"glaze": GREEN})],
    )
    found = values(record)
    assert found["cones_over_target"] == 9
    assert found["cones_over_label"] == 8  # label 06 to 04, cone 5 is eight steps above 04
    assert found["wrong_band"] == "yes"


def test_bisque_is_compared_with_the_glaze_firing():
    found = values(tile(bisque_cone="08", cone_reached="05"))
    assert found["bisque_minus_glaze_cones"] == -3
    assert found["bisque_cones_below_04"] == 4


def test_a_bisque_cone_of_the_tile_counts_and_the_other_one_read_is_said():
    bisque = {"name": "B", "witness_cones": [{"cone": "08"}]}
    record = tile(bisque_cone="04", bisque_firing=bisque, cone_reached="05")
    found = measures(record)["bisque_cones_below_04"]
    assert (found.value, found.said) == (0, "bisque cone 04 (the tile's own; its bisque read 08)")
    same = tile(bisque_cone="08", bisque_firing=bisque, cone_reached="05")
    assert measures(same)["bisque_cones_below_04"].said == "bisque cone 08"


def test_a_comparison_with_a_target_says_so():
    planned = {"name": "F", "target_cone": "05"}
    told = {
        day: measures(tile(bisque_cone="04", firing=planned | {"fired_on": day}))
        for day in (None, "2026-03-01")
    }
    said = {day: each["bisque_minus_glaze_cones"].said for day, each in told.items()}
    assert said["2026-03-01"] == "bisque cone 04, glaze firing set for cone 05 (no witness cone)"
    # Before the firing there is no cone to miss.
    assert said[None] == "bisque cone 04, glaze firing set for cone 05"


def test_an_underfired_body_is_told_only_when_both_firings_are_known():
    body = {"name": "stone", "cone_low": "4", "cone_high": "6"}
    assert "cones_over_body" not in values(tile(body=body, cone_reached="05"))
    assert values(tile(body=body, cone_reached="05", bisque_cone="04"))["cones_over_body"] == -7
    assert values(tile(body=body, cone_reached="7"))["cones_over_body"] == 1


def test_two_glazes_add_up_only_when_both_are_measured():
    one, other = {"glaze": "a", "thickness_mm": 0.4}, {"glaze": "b", "coats": 2}
    assert "thickness_mm" not in values(tile(areas=[area(1, one, other)]))
    other["thickness_mm"] = 0.5
    assert values(tile(areas=[area(1, one, other)]))["thickness_mm"] == 0.9


def test_underglaze_under_a_clear_is_counted_apart():
    layers = ({"glaze": BLACK, "coats": 3}, {"glaze": GREEN, "coats": 2})
    found = values(tile(areas=[area(1, *layers)]))
    assert found["colour_coats_beneath"] == 3
    assert found["coats"] == 2
    assert found["glazes_on_area"] == 1
    assert "colour_applied_on" not in found
    layers[0]["applied_on"] = "greenware"
    assert values(tile(areas=[area(1, *layers)]))["colour_applied_on"] == "greenware"


def look(day, *defects):
    return {"inspected_on": day, "defects": [{"defect": each} for each in defects]}


def test_late_crazing_is_dated_from_the_firing_when_an_earlier_look_was_sound():
    record = tile(
        firing={"name": "F", "fired_on": "2025-03-01"},
        inspections=[look("2025-05-30", "crazing"), look("2025-03-03")],
    )
    assert values(record, defect="crazing")["days_to_first_seen"] == 90


def test_a_first_look_long_after_the_firing_does_not_date_the_crazing():
    record = tile(
        firing={"name": "F", "fired_on": "2025-03-01"}, inspections=[look("2025-05-30", "crazing")]
    )
    found = values(record, defect="crazing")
    assert "days_to_first_seen" not in found
    assert found["days_before_first_look"] == 90


def test_each_area_has_its_own_day_on_which_it_was_first_seen():
    looks = [
        {"inspected_on": day, "defects": [{"defect": "crazing", "area": number}]}
        for number, day in ((1, "2025-01-02"), (2, "2025-06-30"))
    ]
    record = tile(
        firing={"name": "F", "fired_on": "2025-01-01"}, areas=[area(1), area(2)], inspections=looks
    )
    days = [values(record, number, "crazing")["days_to_first_seen"] for number in (1, 2)]
    assert days == [1, 180]


def test_a_clue_of_the_area_goes_before_that_of_the_tile():
    record = tile(
        clues={"wax_near": "no", "bisque_wiped": "yes"}, areas=[area(1, clues={"wax_near": "yes"})]
    )
    found = values(record)
    assert found["wax_near"] == "yes"
    assert found["bisque_wiped"] == "yes"


def test_the_place_of_a_defect_answers_a_clue_but_not_over_a_recorded_one():
    seen = {"defect": "crazing", "area": 1, "place": "in thick pools"}
    fields = {"inspections": [{"inspected_on": "2025-03-03", "defects": [seen]}]}
    record = tile(areas=[area(1)], **fields)
    assert values(record, defect="crazing")["worst_where_thick"] == "yes"
    record = tile(areas=[area(1, clues={"worst_where_thick": "no"})], **fields)
    assert values(record, defect="crazing")["worst_where_thick"] == "no"


def recipe(*lines):
    return {"lines": [{"material": name, "parts": parts} for name, parts in lines]}


def test_recipe_shares_need_every_material():
    glaze = {"name": "clear", "kind": "recipe"}
    known = recipe(("kaolin", 30), ("soda feldspar", 50), ("whiting", 20))
    found = values(tile(areas=[area(1, {"glaze": glaze, "recipe": known})]))
    assert found["raw_clay_pct"] == 30
    assert found["feldspar_pct"] == 50
    # Whiting loses 44 %, kaolin 14 %: 0.2 x 43.97 + 0.3 x 13.96 = 12.98.
    assert found["loss_on_ignition_pct"] == pytest.approx(13.0, abs=0.05)
    unknown = recipe(("kaolin", 30), ("frit from the blue tub", 70))
    found = values(tile(areas=[area(1, {"glaze": glaze, "recipe": unknown})]))
    assert "raw_clay_pct" not in found


def test_the_age_of_a_bucket_is_told_where_it_holds_raw_zinc_oxide():
    def aged(zinc, mixed_on):
        layer = {
            "glaze": {"name": "clear", "kind": "recipe"},
            "recipe": recipe(("kaolin", 30 - zinc), ("soda feldspar", 70), ("zinc oxide", zinc)),
            "batch": {"name": "one", "mixed_on": mixed_on},
        }
        return values(tile(glazed_on="2026-03-01", areas=[area(1, layer)]))

    assert aged(10, "2026-01-04")["zinc_bucket_weeks"] == 8
    assert "zinc_bucket_weeks" not in aged(1, "2026-01-04")
    assert "zinc_bucket_weeks" not in aged(10, "2026-03-02")  # one of the days is wrong
    assert "zinc_bucket_weeks" not in aged(10, None)


def test_the_cone_reached_decides_the_setting_before_the_label():
    record = tile(cone_reached="5", areas=[area(1, {"glaze": GREEN})])
    assert setting(View(record, record.areas[0])) == "mid_range"
    record = tile(areas=[area(1, {"glaze": GREEN})])
    assert setting(View(record, record.areas[0])) == "low_fire"
    assert setting(View(tile(cone_reached="5"))) == "mid_range"
    assert setting(View(tile())) == "unknown"


def test_an_area_that_is_not_there_is_refused():
    with pytest.raises(UnknownName, match="T-1 has no area 4. Try: one of 1"):
        measures(tile(areas=[area(1)]), 4)


def test_crazing_noted_at_the_foot_starts_at_bare_clay():
    seen = {"defect": "crazing", "area": 1, "place": "foot"}
    record = tile(areas=[area(1)], inspections=[{"inspected_on": "2025-03-03", "defects": [seen]}])
    found = measures(record, None, "crazing")["starts_at_bare_clay"]
    assert found.value == "yes"
    assert found.said.endswith("(noted at: foot)")
