"""``tiles palette``: what to hand out, counted over the tiles made alike."""

import csv
import io
import json
from functools import partial

import pytest

from tests.cli.records import assert_one_line_error, palette_rows

KEYS = [
    "glazes", "recipe_versions", "coats", "body", "cone_reached", "tiles", "clean", "tiles_with",
    "other_words", "clean_marks", "outside_label", "stop", "food_label", "food_label_unmet",
    "food_label_not_judged", "food_label_of_one_layer", "holds", "not_understood", "by_kiln",
    "otherwise_tiles", "otherwise_clean", "others_on_clay", "clean_early", "set_for",
]  # fmt: skip


def test_a_glaze_at_a_cone_that_its_label_does_not_cover_is_named(term, tiles):
    assert tiles("glaze", "change", "plum red", "--cones", "5-6", "--yes").code == 0
    assert tiles("glaze", "change", "toad green", "--cones", "06-04", "--yes").code == 0
    told = " ".join(tiles("palette").out.split())
    assert "Not what the label is for: plum red (cone 5 to 6) at cone 06, 05. " in told
    rows = json.loads(tiles("palette", "--json").out)
    off = {(*row["glazes"], row["cone_reached"]) for row in rows if row["outside_label"]}
    assert off == {("plum red", "06"), ("plum red", "05")}
    assert [bool(row["stop"]) for row in rows] == [False] * 4 + [True] * 2
    assert "1 of 1 plum red x3 red 06 Q-7 stop: far outside its range " in told
    assert "Not what the label" not in tiles("palette", "--glaze", "toad green").out


def test_a_clay_far_outside_its_own_range_is_no_way_to_hand_out_as_forecast_says(term, tiles):
    assert tiles("body", "change", "white", "--cones", "5-7", "--yes").code == 0
    found = json.loads(tiles("palette", "--json").out)[-1]
    assert (found["body"], found["outside_label"]) == ("white", ["white"])
    of = ("--body", "white", "--glaze", "toad green", "--cone", "05")
    stop = " ".join(tiles("forecast", *of).out.split())
    (why,) = found["stop"]
    assert why.removeprefix("cone reached 05") in stop
    weak = "So far under its range glaze does not melt through and clay stays weak and porous"
    assert weak in stop
    for told in (tiles("palette").out, tiles("find", "--clean").err):
        assert "white (cone 5 to 7) at cone 05. Stop where it is at least 4 cones off. " + weak in (
            " ".join(told.split())
        )


@pytest.fixture
def term(fresh, tiles, tmp_path):
    """Toad green over ink crawls on red, plum red keeps its colour at cone 06 alone."""
    lines = ["mark,body,glaze,coats,under_glaze,under_coats,cone_reached,inspected_on,"
             "defect_crawling,defect_colour_shift,glaze_food_label"]  # fmt: skip
    label = "food safe when fired to cone 05"
    for mark, told in {
        "Q-1": "red,toad green,3,ink,2,^05,2026-03-02,none,none,",
        "Q-2": "red,toad green,3,ink,2,^05,2026-03-02,severe,none,",
        "Q-3": "red,toad green,3,ink,2,^05,2026-03-02,slight,slight,",
        "Q-4": "red,toad green,3,,,^05,2026-03-02,none,none,",
        "Q-5": "white,toad green,3,,,^05,2026-03-02,none,none,",
        "Q-6": "white,toad green,3,,,^05,2026-03-02,none,none,",
        "Q-7": f"red,plum red,3,,,^06,2026-03-02,none,none,{label}",
        "Q-8": f"red,plum red,3,,,^05,2026-03-02,none,severe,{label}",
        "Q-9": f"red,plum red,3,,,,2026-03-02,none,none,{label}",
        "Q-10": "white,toad green,1,,,^05,,,,",
    }.items():
        lines.append(f"{mark},{told}")
    (tmp_path / "term.csv").write_text("\n".join(lines), encoding="utf-8")
    ran = tiles("import", tmp_path / "term.csv", "--yes")
    assert ran.code == 0, ran.err


@pytest.fixture
def rows(tiles):
    return partial(palette_rows, tiles)


def brief(row):
    return "/".join(row["glazes"]), row["body"], row["cone_reached"], row["clean"], row["tiles"]


def test_each_way_of_glazing_is_counted_once_the_best_first(term, rows):
    found = rows()
    assert {tuple(row) for row in found} == {tuple(KEYS)}
    assert [brief(row) for row in found] == [
        ("toad green", "white", "05", 2, 2),
        ("plum red", "red", None, 1, 1),
        ("plum red", "red", "06", 1, 1),
        ("toad green", "red", "05", 1, 1),
        ("ink/toad green", "red", "05", 1, 3),
        ("plum red", "red", "05", 0, 1),
    ]
    crawls = found[4]
    assert (crawls["coats"], crawls["clean_marks"]) == ([2, 3], ["Q-1"])
    assert crawls["tiles_with"] == {"crawling": 2, "colour shift": 1}


def test_the_filters_of_find_narrow_the_palette(term, rows, tiles):
    assert [brief(row)[:2] for row in rows("--body", "white")] == [("toad green", "white")]
    assert [row["clean_marks"] for row in rows("--glaze", "ink", "--cone", "05")] == [["Q-1"]]
    assert [row["clean"] for row in rows("--only-clean", "--body", "red")] == [1, 1, 1]
    assert len(rows("--limit", "2")) == 2
    assert_one_line_error(tiles("palette", "--body", "rad"), "'rad'")
    ran = tiles("palette", "--cone", "5")
    assert (ran.out, ran.err) == ("", "No such tile was inspected. At cone 05: 7 areas.\n")


def test_the_sheet_names_clean_tiles_faults_the_claim_of_a_label_and_a_caution(term, tiles):
    ran = tiles("palette")
    assert ran.err == ""
    lines = [" ".join(line.split()) for line in ran.out.splitlines()]
    assert "1 of 3 ink x2 + toad green x3 red 05 Q-1 crawling 2, colour shift 1" in lines
    assert "2 of 2 toad green x3 white 05 Q-5 -" in lines
    assert (
        'On food, in the words of the labels, not ours: "food safe when fired to cone 05": plum '
        "red. Not so fired: at cone 06. Of some the cone reached is not known. No label on record "
        "says anything of: ink, toad green. Clean does not show that a glaze is safe for food."
    ) in " ".join(lines)


def test_tiles_from_before_and_after_the_recipe_was_written_down_stand_on_one_line(term, tiles):
    assert tiles("glaze", "add", "own white", "--kind", "recipe").code == 0
    log = ("log", "--body", "red", "--glaze", "own white", "--coats", "2")
    assert tiles(*log, "--mark", "R-1", "--defect", "crawling").code == 0
    ran = tiles("recipe", "add", "own white", "--line", "silica=100", "--yes")
    assert ran.code == 0, ran.err
    assert tiles(*log, "--mark", "R-2", "--clean").code == 0
    of = ("--glaze", "own white")
    (row,) = json.loads(tiles("palette", *of, "--json").out)
    assert (row["clean"], row["tiles"], row["recipe_versions"]) == (1, 2, [None])
    assert "1 of 2" in tiles("find", "--clean", *of).out


def test_what_is_retired_leaves_the_sheet_and_is_named(term, tiles, rows):
    assert "retired" not in tiles("palette").out
    assert tiles("glaze", "retire", "plum red").code == 0
    assert tiles("body", "retire", "white").code == 0
    told = "Left out as retired: white, plum red ('tiles find' still has the tiles).\n"
    assert told in tiles("palette").out
    assert [brief(row)[:2] for row in rows()] == [("toad green", "red"), ("ink/toad green", "red")]
    assert "retired" not in tiles("palette", "--body", "red", "--glaze", "toad green").out
    ran = tiles("palette", "--glaze", "plum red")
    assert (ran.out, ran.err) == ("", told.replace("white, ", ""))


def test_a_label_in_no_language_that_is_read_is_told_as_it_stands_and_ranks_as_no_harmless_one(
    term, tiles, rows
):
    said, told = "\N{GREEK SMALL LETTER MU}\N{GREEK SMALL LETTER OMICRON}lybdos", {}
    for label in (said, "bevat lood", "nicht f\N{LATIN SMALL LETTER U WITH DIAERESIS}r Geschirr"):
        assert tiles("glaze", "change", "toad green", "--food-label", label, "--yes").code == 0
        told[label] = [(brief(row)[0], row["not_understood"], row["holds"]) for row in rows()]
    assert [each for each, *_ in told[said]] == ["plum red"] * 3 + ["toad green"] * 2 + [
        "ink/toad green"
    ]
    assert told[said][-1] == ("ink/toad green", [said], [])
    assert told["bevat lood"][-1] == ("ink/toad green", ["bevat lood"], ["lead"])
    assert told.popitem()[1][0] == ("toad green", [], [])
    assert tiles("glaze", "change", "toad green", "--food-label", said, "--yes").code == 0
    out = " ".join(tiles("palette").out.split())
    assert f'2 of 2 toad green x3 white 05 Q-5 "{said}": read it' in out
    assert "was not understood and may be a poison; read it yourself." in out
    assert f'"{said}": toad green. Not understood: read it yourself.' in out
    read = f'The label of toad green says "{said}"; not judged, so read it: Q-1, Q-4, Q-5, Q-6'
    assert read in " ".join(tiles("find", "--clean").err.split())
    assert {brief(row)[0] for row in rows("--no-poison")} == {"plum red"}
    left = "or not understood: 3 ways of glazing (shown without --no-poison)."
    assert left in " ".join(tiles("palette", "--no-poison").out.split())


def test_a_recipe_with_a_material_that_nobody_knows_ranks_as_no_harmless_one(term, tiles, rows):
    log = ("log", "--body", "white", "--coats", "2", "--cone-reached", "05", "--clean")
    for mark, glaze, line in (("R-1", "own clear", "Zaubermehl"), ("R-2", "own matt", "Kreide")):
        lines = ("--line", f"{line}=60", "--line", "Quarz=40")
        assert tiles("recipe", "add", glaze, *lines, "--yes").code == 0
        assert tiles(*log, "--mark", mark, "--glaze", glaze).code == 0
    found = {brief(row)[0]: row["not_understood"] for row in rows()}
    assert found["own matt"] == [] and list(found.items())[-1] == ("own clear", ["Zaubermehl"])


def test_the_csv_carries_what_the_label_says_and_whether_it_was_fired_so(term, tiles):
    ran = tiles("palette", "--csv")
    found = list(csv.DictReader(io.StringIO(ran.out)))
    assert list(found[0]) == KEYS and ran.err == ""
    assert tiles("palette", "--cone", "9", "--csv").out == f"{','.join(KEYS)}\n"
    assert found[0]["clean_marks"] == "Q-5, Q-6"
    plum = [row for row in found if row["glazes"] == "plum red"]
    assert {row["food_label"] for row in plum} == {"plum red: food safe when fired to cone 05"}
    assert [(row["cone_reached"], row["food_label_unmet"]) for row in plum] == [
        ("", "plum red"), ("^06", "plum red"), ("^05", ""),
    ]  # fmt: skip


def test_clean_tiles_at_another_cone_than_the_food_label_names_are_told_by_find(term, tiles):
    told = tiles("find", "--clean", "--glaze", "plum red").err
    assert (
        'The label of plum red says "food safe when fired to cone 05"; at another cone, or not '
        "known at which: Q-7, Q-9.\n"
    ) in told
    assert "2 tiles. Clean does not show that a glaze is safe for food.\n" in told
    assert "label" not in tiles("find", "--clean", "--glaze", "toad green").err
    assert "label" not in tiles("find", "--faulty", "--glaze", "plum red").err


def test_tiles_with_a_peak_but_no_cone_are_told(term, tiles):
    for name, peak_c in (("P1", "1035"), ("P2", "1186")):
        assert tiles("firing", "add", name, "--peak-c", peak_c).code == 0
        log = ("log", "--mark", f"R-{name}", "--body", "red", "--glaze", "plum red", "--clean")
        assert tiles(*log, "--firing", name).code == 0
    told = "1 more tile went to a peak near cone 05, but no cone was read."
    assert told in " ".join(tiles("palette", "--cone", "05").out.split())
    assert told in tiles("find", "--cone", "05", "--clean").err
    assert "near cone 4 to 6, but" in tiles("palette", "--cone", "4-6").err
    assert "near cone 05½, but" in tiles("find", "--cone", "05½").err
    assert "peak near" not in tiles("find", "--cone", "14").err + tiles("find", "--cone", "022").err
    assert "peak near" not in tiles("palette", "--cone", "05", "--body", "white").out
    assert "P1, peak 1035 C" in tiles("show", "R-P1").out


def test_only_clean_says_how_many_ways_it_leaves_out(term, tiles):
    assert "Left out" not in tiles("palette").out
    said = " ".join(tiles("palette", "--only-clean").out.split())
    assert "Left out because of faults: 2 ways of glazing (shown without --only-clean). " in said
    assert "one batch" not in said
    ran = tiles("palette", "--only-clean", "--glaze", "ink")
    assert (ran.out, ran.err) == (
        "", "Left out because of faults: 1 way of glazing (shown without --only-clean).\n"
    )  # fmt: skip
    assert "Left out" not in tiles("palette", "--only-clean", "--body", "white").out


def test_only_clean_says_where_one_batch_alone_failed(term, tiles):
    for name in ("Jan", "Oct"):
        assert tiles("batch", "add", "toad green", name).code == 0
    for marks, batch in ((("Q-2", "Q-3"), "Jan"), (("Q-1",), "Oct")):
        assert tiles("change", *marks, "--batch", batch, "--yes").code == 0
    said = " ".join(tiles("palette", "--only-clean").out.split())
    assert (
        "All faults are of one batch of: ink x2 + toad green x3 on red at cone 05 (toad green "
        "batch Jan; 1 of 3 clean, none of them from it). "
    ) in said
    told = " ".join(tiles("palette", "--glaze", "ink").out.split())
    assert "Q-1 crawling 2, colour shift 1, all of batch Jan" in told
    assert tiles("change", "Q-1", "--batch", "", "--yes").code == 0
    assert "batch Jan; 1 of 3" in tiles("palette", "--only-clean").out.replace("\n", " ")
    assert tiles("change", "Q-1", "--batch", "Jan", "--yes").code == 0
    assert "one batch" not in tiles("palette", "--only-clean").out


def test_glazes_with_the_same_words_on_their_labels_share_a_line(term, tiles):
    for glaze in ("toad green", "plum red"):
        assert tiles("glaze", "change", glaze, "--food-label", "not for food").code == 0
    out = tiles("palette").out
    assert out.count("not for food") == 1
    assert '\n   "not for food": plum red, toad green.\n' in out


def test_the_cones_of_the_jar_count_where_its_food_label_names_none(term, tiles):
    change = ("glaze", "change", "toad green", "--cones", "04-02")
    assert tiles(*change, "--food-label", "Dinnerware safe.").code == 0
    said = " ".join(tiles("palette").out.split())
    assert '"Dinnerware safe.": toad green. Not so fired: at cone 05. Said of' in said
    told = " ".join(tiles("find", "--clean", "--glaze", "toad green").err.split())
    assert (
        '"Dinnerware safe."; at another cone, or not known at which: Q-1, Q-4, Q-5, Q-6; ' in told
    )


def test_a_food_label_that_is_not_plain_about_its_cones_is_said_to_be_not_judged(term, tiles):
    label = "Food safe, but not at cone 06. Not for microwave."
    assert tiles("glaze", "change", "toad green", "--food-label", label).code == 0
    said = " ".join(tiles("palette").out.split())
    assert f'"{label}": toad green. Not judged whether so made: read it. Said of' in said
    row = json.loads(tiles("palette", "--json").out)[-1]
    assert (row["food_label_unmet"], row["food_label_not_judged"]) == ([], ["toad green"])
    told = " ".join(tiles("find", "--clean", "--glaze", "toad green").err.split())
    assert f'"{label}"; not judged, so read it: Q-1, Q-4, Q-5, Q-6; ' in told


def test_a_food_label_is_not_said_of_another_layer_beside_its_glaze(term, tiles, rows):
    assert tiles("glaze", "change", "toad green", "--food-label", "food safe").code == 0
    said = " ".join(tiles("palette", "--glaze", "ink").out.split())
    assert '"food safe": toad green. Said of the glaze alone, not over ink. No label' in said
    assert "alone" not in tiles("palette", "--body", "white").out
    found = [row["food_label_of_one_layer"] for row in rows("--glaze", "toad green")]
    assert found == [[], [], ["toad green"]]
    told = " ".join(tiles("find", "--clean", "--glaze", "ink").err.split())
    assert '"food safe"; of the glaze alone, but with other layers: Q-1.' in told
    assert tiles("glaze", "change", "ink", "--food-label", "not food safe").code == 0
    said = " ".join(tiles("palette", "--glaze", "ink").out.split())
    assert '"not food safe": ink. Clean' in said or '"not food safe": ink. "' in said
    assert '"food safe": toad green. Said of the glaze alone, not over ink.' in said


def test_two_glazes_with_food_labels_are_together_one_that_no_label_speaks_of(term, tiles, rows):
    for glaze, label in (("toad green", "food safe"), ("ink", "food safe at cone 05")):
        assert tiles("glaze", "change", glaze, "--food-label", label).code == 0
    said = " ".join(tiles("palette", "--glaze", "ink").out.split())
    assert '"food safe at cone 05": ink. Said of the glaze alone, not under toad green.' in said
    assert '"food safe": toad green. Said of the glaze alone, not over ink.' in said
    assert rows("--glaze", "ink")[0]["food_label_of_one_layer"] == ["ink", "toad green"]
    assert tiles("find", "--clean", "--glaze", "ink").err.count("but with other layers: Q-1.") == 2


def test_a_food_label_that_asks_for_a_glaze_over_it_is_told_where_none_lies_there(term, tiles):
    label = "food safe with a clear glaze over it"
    assert tiles("glaze", "change", "toad green", "--food-label", label).code == 0
    said = " ".join(tiles("palette", "--glaze", "ink").out.split())
    assert (
        f'"{label}": toad green. Not judged whether so made: read it. Nothing lies over it' in said
    )
    assert "Nothing lies over it on Q-1, Q-2, Q-3. Said of" in said
    told = " ".join(tiles("find", "--clean", "--glaze", "ink").err.split())
    assert f'"{label}"; not judged, so read it: Q-1; with nothing over it: Q-1; of' in told
    assert tiles("glaze", "change", "ink", "--food-label", "non-toxic, food safe").code == 0
    said = " ".join(tiles("palette", "--glaze", "ink").out.split())
    assert '"non-toxic, food safe": ink. Said of the glaze alone, not under toad green.' in said
    told = ("--food-label", "food safe under a clear glaze")
    assert tiles("glaze", "change", "ink", *told).code == 0
    assert "alone, not under toad green" in " ".join(tiles("palette").out.split())
    assert tiles("glaze", "change", "toad green", "--food-label", "food safe").code == 0
    said = " ".join(tiles("palette").out.split())
    assert "alone, not over ink" in said and "alone, not under toad green" not in said


def test_where_a_glaze_crazed_its_food_label_is_no_reason_to_eat_from_it(term, tiles):
    assert tiles("glaze", "change", "toad green", "--food-label", "food safe").code == 0
    assert "keep from food" not in tiles("palette").out
    assert tiles("inspect", "Q-5", "--defect", "crazing", "--yes").code == 0
    said = " ".join(tiles("palette").out.split())
    assert "Seen here: crazing on white: keep from food." in said
    assert "keep from food" not in tiles("palette", "--body", "red").out


def test_a_sheet_of_clean_tiles_alone_keeps_the_words_on_food_of_those_it_leaves_out(term, tiles):
    assert tiles("glaze", "change", "toad green", "--food-label", "food safe").code == 0
    assert tiles("inspect", "Q-2", "--defect", "crazing", "--yes").code == 0
    for options in (("--only-clean",), ("--glaze", "toad green", "--limit", "1")):
        said = " ".join(tiles("palette", *options).out.split())
        assert "ink x2" not in said  # its crazed way of glazing is not on the sheet
        assert "Seen here: crazing on red: keep from food." in said


def test_pairs_alone_are_listed_when_asked_for(term, tiles, rows):
    twice = ("--glaze", "ink=1", "--glaze", "ink=2", "--cone-reached", "05", "--clean")
    assert tiles("log", "--mark", "R-1", "--body", "white", *twice).code == 0
    assert ["ink", "ink"] in [row["glazes"] for row in rows()]
    assert [row["glazes"] for row in rows("--layered")] == [["ink", "toad green"]]
    assert tiles("palette", "--layered", "--body", "white").err == "No such tile was inspected.\n"


def test_a_clean_line_does_not_hide_that_its_glaze_failed_made_otherwise(term, tiles, rows):
    for mark, coats, body, *seen in (
        ("R-1", "1", "red", "--defect", "running"),
        ("R-2", "3", "white", "--defect", "running"),
        ("R-3", "2", "white", "--clean"),
    ):
        log = ("log", "--mark", mark, "--body", body, "--glaze", "ink", "--coats", coats)
        assert tiles(*log, "--cone-reached", "05", *seen).code == 0
    found = {(row["body"], *row["coats"]): row for row in rows("--glaze", "ink")}
    sound = found["white", 2]
    assert (sound["otherwise_tiles"], sound["otherwise_clean"]) == (2, 0)
    below = "But at least half failed of: ink x3"
    for options, is_below in (((), False), (("--body", "white", "--only-clean"), True)):
        said = " ".join(tiles("palette", *options).out.split())
        assert "R-3 but x3" in said and (f"{below} (running 1 of 1)" in said) == is_below
        assert "but: with so many coats on that clay at least half failed." in said
    assert tiles("log", "--mark", "R-4", *log[3:5], "--glaze", "ink", "--coats", "4", *log[-2:],
                 "--cone-reached", "06", "--defect", "running").code == 0  # fmt: skip
    said = " ".join(tiles("palette").out.split())
    assert "R-3 but x3" in said, "at another cone it tells nothing"
    assert tiles("change", "R-2", "--body", "red", "--yes").code == 0
    said = " ".join(tiles("palette", "--body", "white").out.split())
    assert "R-3 -" in said and "failed of: ink x1 on red (running 1 of 1)" in said
    assert "half failed" not in tiles("palette").out, "a line of its own tells it"


def test_kilns_that_are_counted_together_are_named_and_the_one_where_all_failed(term, tiles, rows):
    for kiln, mark in (("big kiln", "Q-2"), ("big kiln", "Q-3"), ("small kiln", "Q-1")):
        assert tiles("kiln", "add", kiln).code == (1 if mark == "Q-3" else 0)
        assert tiles("firing", "add", f"F {mark}", "--kiln", kiln).code == 0
        assert tiles("change", mark, "--firing", f"F {mark}").code == 0
    told = " ".join(tiles("palette").out.split())
    assert "Q-1 crawling 2, colour shift 1, all in big kiln" in told
    note = "Kilns are counted together (big kiln, small kiln); of one alone: --kiln NAME."
    assert note in told
    assert "counted together" not in tiles("palette", "--kiln", "big kiln").out
    (pair,) = rows("--layered")
    assert pair["by_kiln"] == [
        {"kiln": "big kiln", "tiles": 2, "clean": 0},
        {"kiln": "small kiln", "tiles": 1, "clean": 1},
    ]
    assert "big kiln 0 of 2; small kiln 1 of 1" in tiles("palette", "--csv").out
