"""Bodies, glazes, kilns and firings: add, list, show, change, rename, retire."""

import csv
import io
import json
import re

import pytest

from tests.cli.records import all_rows, assert_one_line_error, row, shown

BODY = {
    "kind": "stoneware", "colour": "speckled", "absorption_pct": 2.5, "shrinkage_pct": 12.0,
    "expansion_ppm_per_k": 5.9, "remark": "bag 12",
}  # fmt: skip
GLAZE = {
    "role": "underglaze", "finish": "matt", "colour": "teal", "maker": "own cupboard",
    "supplied_as": "liquid", "food_label": "not for food", "remark": "thin it",
}  # fmt: skip
FIRING = {
    "kind": "glaze", "kiln": "top loader", "fired_on": "2026-06-30", "target_cone": "05",
    "rate_c_per_h": 60.0, "hold_min": 15.0, "atmosphere": "oxidation", "peak_c": 1034.0,
    "opened_c": 90.0, "remark": "lid draughty",
}  # fmt: skip
SUBJECTS = {
    "body": ("grey body", BODY, ["--cones", "4-6"]),
    "glaze": ("fog grey", GLAZE, ["--cones", "06 to 04"]),
    "firing": ("F60", FIRING, ["--witness-cone", "05@top", "--witness-cone", "^04"]),
}
WITH_TILES = {"body": "red earthenware", "glaze": "pond green", "firing": "F12"}


def options(values):
    return [part for key, value in values.items()
            for part in (f"--{key.replace('_', '-')}", str(value))]  # fmt: skip


def listed(tiles, subject, *more):
    return json.loads(tiles(subject, "list", "--json", *more).out)


@pytest.mark.parametrize("subject", SUBJECTS)
def test_what_is_added_is_listed_and_shown_with_every_field(sample, tiles, subject):
    name, values, more = SUBJECTS[subject]
    ran = tiles(subject, "add", name, *options(values), *more)
    assert (ran.code, ran.out) == (0, f"{name} is on record.\n"), ran.err
    found = row(tiles, subject, name.upper())
    assert found.items() >= ({"name": name, "tiles": 0} | values).items()
    assert name in [each["name"] for each in listed(tiles, subject)]
    assert name in tiles(subject, "list").out
    assert name in tiles(subject, "show", name).out


def test_cone_ranges_and_witness_cones_are_read(sample, tiles):
    for subject, (name, _values, more) in SUBJECTS.items():
        tiles(subject, "add", name, *more)
    assert row(tiles, "body", "grey body")["cones"] == "4 to 6"
    assert row(tiles, "glaze", "fog grey")["cones"] == "06 to 04"
    assert row(tiles, "firing", "F60")["witness_cones"] == [
        {"shelf": "top", "cone": "05"},
        {"shelf": None, "cone": "04"},
    ]
    card = tiles("firing", "show", "F60").out.splitlines()
    assert [line.split() for line in card if "cones" in line] == [
        ["witness", "cones", "05", "(top)", "+", "04"]
    ]


@pytest.mark.parametrize("subject", [*SUBJECTS, "kiln"])
def test_a_name_is_taken_only_once_whatever_its_capitals(sample, tiles, subject):
    assert tiles(subject, "add", "Some Name").code == 0
    before = all_rows(sample)
    assert_one_line_error(tiles(subject, "add", "some  name"), "'Some Name'", "already on record")
    assert all_rows(sample) == before


@pytest.mark.parametrize("subject", WITH_TILES)
def test_renaming_keeps_the_tiles(sample, tiles, subject):
    old = WITH_TILES[subject]
    search = {"body": "--body", "glaze": "--glaze", "firing": "--firing"}[subject]
    before = json.loads(tiles("find", search, old, "--json").out)
    count = row(tiles, subject, old)["tiles"]
    assert count > 0
    assert tiles(subject, "rename", old, " New  Name ").out == f"{old} is now New Name.\n"
    after = json.loads(tiles("find", search, "new name", "--json").out)
    assert [(each["mark"], each["area"]) for each in after] == [
        (each["mark"], each["area"]) for each in before
    ]
    assert row(tiles, subject, "New Name")["tiles"] == count
    assert_one_line_error(tiles(subject, "show", old), f"'{old}'")


@pytest.mark.parametrize("subject", ["body", "glaze"])
def test_retiring_keeps_the_tiles_and_restoring_takes_it_back(sample, tiles, subject):
    name = WITH_TILES[subject]
    before = shown(tiles, "M-41")
    assert "its tiles stay on record" in tiles(subject, "retire", name).out
    assert row(tiles, subject, name)["retired"] is True
    of_tile = json.dumps(shown(tiles, "M-41"))
    assert json.loads(of_tile.replace('"is_retired": true', '"is_retired": false')) == before
    assert tiles(subject, "restore", name).code == 0
    assert row(tiles, subject, name)["retired"] is False
    assert shown(tiles, "M-41") == before


def test_several_are_retired_at_once_all_or_none(sample, tiles):
    assert_one_line_error(tiles("glaze", "retire", "pond green", "no such"), "'no such'")
    assert row(tiles, "glaze", "pond green")["retired"] is False
    ran = tiles("glaze", "retire", "pond green", "RAIN blue", "pond green")
    told = "{} is retired; its tiles stay on record.\n"
    assert ran.out == told.format("pond green") + told.format("rain blue")
    assert tiles("glaze", "restore", "pond green", "rain blue").out.count("is in use.") == 2


def test_the_list_of_glazes_tells_remarks_and_cautions_also_of_a_jar_on_no_tile(sample, tiles):
    remark = ("--remark", "lead frit, lid lost", "--colour", "cadmium red")
    assert tiles("glaze", "add", "ember", *remark).code == 0
    held = {each["name"]: each["hazards"] for each in
            json.loads(tiles("glaze", "list", "--json").out)}  # fmt: skip
    assert (held["ember"], held["rain blue"]) == (["lead", "cadmium"], [])
    (line,) = (each for each in tiles("glaze", "list").out.splitlines() if "ember" in each)
    assert line.endswith("  0      no       lead + cadmium  lead frit, lid lost")


@pytest.mark.parametrize("kind", ["body", "glaze", "firing", "kiln"])
def test_a_name_very_like_one_on_record_is_told_when_it_is_added(fresh, tiles, kind):
    assert tiles(kind, "add", "heron blue").err == ""
    ran = tiles(kind, "add", "herron blue")
    assert (ran.code, ran.out) == (0, "herron blue is on record.\n")
    assert "'herron blue' is very like 'heron blue'" in ran.err
    assert f'tiles {kind} merge "herron blue" "heron blue"' in ran.err
    for name in ("heron green", "heron blue 2", "heron blue matt"):
        assert tiles(kind, "add", name).err == ""


def test_a_shelf_very_like_one_on_record_is_told_when_a_tile_is_put_there(sample, tiles):
    made = ("--body", "red earthenware", "--shelf", "big kiln top")
    ran = tiles("log", "--mark", "N-1", *made)
    assert "If 'top' was meant: tiles change N-1 --shelf top" in " ".join(ran.err.split())
    ran = tiles("change", "N-1", "--shelf", "midddle")
    assert "If 'middle' was meant: tiles change N-1 --shelf middle" in " ".join(ran.err.split())


def test_change_sets_the_fields_given_and_an_empty_text_clears_one(sample, tiles):
    before = row(tiles, "glaze", "pond green")
    assert tiles("glaze", "change", "pond green", "--finish", "satin", "--remark", "").code == 0
    after = row(tiles, "glaze", "pond green")
    assert (after["finish"], after["remark"]) == ("satin", None)
    changed = {key for key in before if before[key] != after[key]}
    assert changed == {"finish", "remark"}


@pytest.mark.parametrize(
    ("subject", "option", "field"),
    [
        ("firing", "--peak-c", "peak_c"),
        ("firing", "--fired-on", "fired_on"),
        ("firing", "--witness-cone", "witness_cones"),
        ("body", "--shrinkage-pct", "shrinkage_pct"),
        ("body", "--cones", "cone_high"),
        ("glaze", "--cones", "cone_low"),
    ],
)
def test_an_empty_text_clears_a_number_a_day_and_a_cone_too(sample, tiles, subject, option, field):
    name = {"firing": "F12", "body": "porcelain", "glaze": "pond green"}[subject]
    assert row(tiles, subject, name)[field]
    assert tiles(subject, "change", name, option, "").code == 0
    assert not row(tiles, subject, name)[field]


@pytest.mark.parametrize(
    ("subject", "option", "told"),
    [
        ("glaze", "--role", "the role of 'pond green'"),
        ("firing", "--kind", "the kind of 'F12'"),
    ],
)
def test_what_every_one_has_cannot_be_cleared(sample, tiles, subject, option, told):
    before = all_rows(sample)
    given = (subject, "change", WITH_TILES[subject], option, "")
    assert_one_line_error(tiles(*given), told, "cannot be left blank", f"tiles {subject} change")
    assert all_rows(sample) == before


@pytest.mark.parametrize(
    ("name", "kind", "told"),
    [("F12", "bisque", "F12 is the glaze firing of"), ("B1", "glaze", "bisque firing of Q-1")],
)
def test_a_firing_keeps_its_kind_while_tiles_are_in_it(sample, tiles, name, kind, told):
    assert tiles("firing", "add", "B1", "--kind", "bisque").code == 0
    given = ("--mark", "Q-1", "--body", "porcelain", "--bisque-firing", "B1")
    assert tiles("log", *given).code == 0
    before = all_rows(sample)
    assert_one_line_error(tiles("firing", "change", name, "--kind", kind), told)
    assert all_rows(sample) == before
    assert tiles("change", "Q-1", "--bisque-firing", "").code == 0
    assert tiles("firing", "change", "B1", "--kind", "glaze").code == 0


def test_change_of_a_firing_takes_the_witness_cones_read_after_unloading(sample, tiles):
    tiles("firing", "add", "F60", "--target-cone", "05")
    assert (
        tiles("firing", "change", "F60", "--witness-cone", "04@top", "--hold-min", "20").code == 0
    )
    found = row(tiles, "firing", "F60")
    assert (found["hold_min"], found["target_cone"]) == (20, "05")
    assert found["witness_cones"] == [{"shelf": "top", "cone": "04"}]


def test_what_was_so_already_is_said_so_and_nothing_is_written(sample, tiles):
    top, low = ("--witness-cone", "05@top"), ("--witness-cone", "06@low")
    assert tiles("firing", "add", "F60", "--target-cone", "05", *top, *low).code == 0
    assert tiles("batch", "add", "school white", "June", "--sieve-mesh", "80").code == 0
    before = all_rows(sample)
    same = {
        "F60: target_cone, witness_cones were so already":
            ("firing", "F60", "--target-cone", "05", *top),
        "red earthenware: kind was so already":
            ("body", "red earthenware", "--kind", "earthenware"),
        "school white: role was so already": ("glaze", "school white", "--role", "glaze"),
        "top loader: remark was so already": ("kiln", "top loader", "--remark",
                                              row(tiles, "kiln", "top loader")["remark"] or ""),
        "Batch June of school white: sieve_mesh was so already":
            ("batch", "school white", "June", "--sieve-mesh", "80"),
    }  # fmt: skip
    for said, (subject, *given) in same.items():
        ran = tiles(subject, "change", *given)
        assert (ran.code, ran.out, ran.err) == (0, f"{said}; nothing was changed.\n", "")
    assert all_rows(sample) == before
    ran = tiles("firing", "change", "F60", "--target-cone", "05", "--hold-min", "5")
    assert ran.out == "F60: changed hold_min; target_cone was so already.\n"


def test_one_name_with_either_apostrophe_is_one_thing(sample, tiles):
    assert tiles("glaze", "add", "vert d'eau", "--cones", "06-04").code == 0
    word = "Vert d\u2019eau"
    assert "vert d'eau" in tiles("glaze", "show", word).out
    assert_one_line_error(tiles("glaze", "add", word), "is already on record")
    tile = ("log", "--mark", "Q-9", "--body", "red earthenware", "--glaze", word, "--coats", "2")
    assert tiles(*tile).code == 0
    assert "vert d'eau x2" in tiles("find", "--glaze", word).out


REFUSED = {
    "body kind": ("body", ["--kind", "mud"], ["'mud'", "earthenware, stoneware"]),
    "absorption": ("body", ["--absorption-pct", "140"], ["absorption_pct", "140"]),
    "shrinkage": ("body", ["--shrinkage-pct", "-1"], ["shrinkage_pct", "-1"]),
    "expansion": ("body", ["--expansion-ppm-per-k", "0"], ["expansion_ppm_per_k", "0"]),
    "range upside down": ("body", ["--cones", "6-4"], ["6", "4", "cooler"]),
    "no such cone": ("glaze", ["--cones", "55"], ["'55'"]),
    "role": ("glaze", ["--role", "paint"], ["'paint'", "underglaze"]),
    "finish": ("glaze", ["--finish", "shiny"], ["'shiny'", "gloss"]),
    "supplied as": ("glaze", ["--supplied-as", "cake"], ["'cake'", "liquid, dry"]),
    "firing kind": ("firing", ["--kind", "raku"], ["'raku'", "bisque, glaze"]),
    "kiln": ("firing", ["--kiln", "no such"], ["'no such'", "kiln"]),
    "day": ("firing", ["--fired-on", "30/6/2026"], ["fired_on", "30/6/2026"]),
    "target": ("firing", ["--target-cone", "04-05"], ["'04-05'"]),
    "hold": ("firing", ["--hold-min", "-5"], ["hold_min", "-5"]),
    "hold in words": ("firing", ["--hold-min", "ten"], ["hold_min", "'ten'"]),
    "peak in Fahrenheit": ("firing", ["--peak-c", "1888"], ["peak_c", "1888"]),
    "no shelf": ("firing", ["--witness-cone", "05@"], ["'05@'", "05@top"]),
    "two for a shelf": (
        "firing",
        ["--witness-cone", "05@top", "--witness-cone", "04@top"],
        ["two witness cone readings for one shelf"],
    ),
}


@pytest.mark.parametrize(("subject", "given", "told"), REFUSED.values(), ids=REFUSED)
def test_what_cannot_be_is_refused_in_one_line(sample, tiles, subject, given, told):
    before = all_rows(sample)
    assert_one_line_error(tiles(subject, "add", "some name", *given), *told)
    assert all_rows(sample) == before


@pytest.mark.parametrize("subject", SUBJECTS)
def test_a_change_that_cannot_be_changes_nothing(sample, tiles, subject):
    before = all_rows(sample)
    bad = {"body": "--kind", "glaze": "--role", "firing": "--atmosphere"}[subject]
    assert_one_line_error(tiles(subject, "change", WITH_TILES[subject], bad, "x"), "'x'")
    assert_one_line_error(tiles(subject, "change", WITH_TILES[subject]), "nothing to change")
    assert_one_line_error(tiles(subject, "change", "no such", bad, "x"), "'no such'")
    assert all_rows(sample) == before


def test_a_name_that_is_taken_is_merged_or_another(sample, tiles):
    assert tiles("kiln", "add", "Top Loder").code == 0
    refused = tiles("kiln", "rename", "top loder", "top loader")
    assert_one_line_error(refused, '\'tiles kiln merge "Top Loder" "top loader"\'')
    assert tiles("kiln", "merge", "top loder", "top loader", "--yes").code == 0
    assert "Loder" not in tiles("kiln", "list").out


@pytest.mark.parametrize("subject", [*SUBJECTS, "kiln"])
@pytest.mark.parametrize(("name", "told"), [("  ", "'  '"), ("n" * 121, "at most 120")])
def test_a_name_that_is_none_or_too_long_is_refused(sample, tiles, subject, name, told):
    before = all_rows(sample)
    assert_one_line_error(tiles(subject, "add", name), "name", told)
    there = {"kiln": "top loader", **WITH_TILES}[subject]
    assert_one_line_error(tiles(subject, "rename", there, name), "name", told)
    assert all_rows(sample) == before


@pytest.mark.parametrize("subject", [*SUBJECTS, "kiln"])
def test_lists_come_as_table_csv_and_json_and_can_be_cut(sample, tiles, subject):
    found = listed(tiles, subject)
    assert len(found) > 1
    rows = list(csv.DictReader(io.StringIO(tiles(subject, "list", "--csv").out)))
    assert [each["name"] for each in rows] == [each["name"] for each in found]
    assert not any(re.fullmatch(r"0\d+", cell) for row in rows for cell in row.values())
    assert len(tiles(subject, "list").out.splitlines()) == len(found) + 2
    assert len(listed(tiles, subject, "--limit", "1")) == 1


@pytest.mark.parametrize("subject", [*SUBJECTS, "kiln"])
def test_lists_are_in_the_order_a_person_counts(fresh, tiles, subject):
    for name in ("g10", "G2", "G1"):
        tiles(subject, "add", name)
    assert [each["name"] for each in listed(tiles, subject)] == ["G1", "G2", "g10"]


@pytest.mark.parametrize("subject", ["body", "glaze", "firing"])
def test_the_number_of_tiles_is_that_of_the_search(sample, tiles, subject):
    search = {"body": "--body", "glaze": "--glaze", "firing": "--firing"}[subject]
    for each in listed(tiles, subject):
        found = json.loads(tiles("find", search, each["name"], "--json").out)
        assert each["tiles"] == len({one["mark"] for one in found}), each["name"]


def test_an_empty_database_lists_nothing_and_says_so(fresh, tiles):
    tiles("kiln", "add", "top loader")
    for subject in SUBJECTS:
        assert listed(tiles, subject) == []
        ran = tiles(subject, "list")
        assert (ran.code, ran.out, ran.err) == (0, "", "None yet.\n")


def test_a_jar_whose_label_names_a_poison_shows_its_caution_when_added_and_when_shown(fresh, tiles):
    added = tiles("glaze", "add", "sunset", "--remark", "cadmium red, lead frit").out
    shown = tiles("glaze", "show", "sunset").out
    for told in (added, shown):
        assert "Caution: lead:" in told
        assert "Caution: cadmium:" in told
        assert "never shows that a glaze is safe for food" in " ".join(told.split())


def test_a_jar_that_denies_a_poison_shows_no_caution(fresh, tiles):
    assert "Caution" not in tiles("glaze", "add", "moss", "--food-label", "lead free").out


def test_a_recipe_glaze_shows_the_cautions_of_its_newest_version(fresh, tiles):
    tiles("recipe", "add", "white", "--line", "silica=50", "--line", "whiting=50")
    assert "Caution: free silica dust:" in tiles("glaze", "show", "white").out
    cautions = json.loads(tiles("glaze", "show", "white", "--json").out)["cautions"]
    assert [each.partition(":")[0] for each in cautions] == ["free silica dust"]


def test_an_expansion_per_kelvin_as_a_data_sheet_prints_it_is_questioned(fresh, tiles):
    ran = tiles("body", "add", "porcelain", "--expansion-ppm-per-k", "5.5e-6")
    assert_one_line_error(ran, "5.5e-06", "1e-6/K", "Try: 5.5,")
