"""``tiles find``: the rows, their shape, and each way of narrowing them."""

import csv
import io
import json

import pytest

from tests.cli.records import assert_one_line_error
from tests.outside.test_sample_clean_recount import clean_pairs
from tiles.cli.main import run

KEYS = [
    "mark", "area", "area_label", "body", "glazes", "coats", "thickness_mm", "firing",
    "fired_on", "cone_reached", "inspected", "defects", "severity", "other_words", "clean",
    "alike_tiles", "alike_clean",
]  # fmt: skip


@pytest.fixture
def found(sample, tiles):
    def run(*options):
        ran = tiles("find", *options, "--json")
        assert (ran.code, ran.err) == (0, "")
        return json.loads(ran.out)

    return run


def test_json_rows_have_the_documented_keys(found):
    rows = found()
    assert len(rows) > 200
    assert {tuple(row) for row in rows} == {tuple(KEYS)}


def test_a_mark_of_which_not_all_can_be_read_finds_those_that_it_may_be(found, tiles):
    assert {row["mark"] for row in found("--mark", "m-1?7")} == {f"M-1{n}7" for n in range(10)}
    assert {row["mark"] for row in found("--mark", "*-19?")} == {f"M-19{n}" for n in range(8)}
    assert_one_line_error(tiles("show", "M-??9"), "Try: M-109, M-119, M-129")


def test_rows_are_sorted_as_a_person_counts(found):
    marks = list(dict.fromkeys(row["mark"] for row in found()))
    assert marks.index("M-9") < marks.index("M-10") < marks.index("M-100")
    assert len(marks) == 197


def test_clean_faulty_and_not_inspected_part_the_tiles(found):
    everything, clean = found(), found("--clean")
    faulty, unseen = found("--faulty"), found("--not-inspected")
    assert len(clean) + len(faulty) + len(unseen) == len(everything)
    assert {row["clean"] for row in clean} == {True}
    assert {row["clean"] for row in faulty} == {False}
    assert {(row["clean"], row["inspected"]) for row in unseen} == {(None, False)}
    assert all(row["defects"] for row in faulty)
    assert not any(row["defects"] for row in clean + unseen)


def test_clean_areas_are_those_counted_from_the_files(found):
    rows = found("--clean", "--cone", "05", "--body", "red earthenware")
    assert {(row["mark"], row["area"]) for row in rows} == clean_pairs()


@pytest.mark.parametrize(
    ("options", "holds"),
    [
        (["--body", "Porcelain"], lambda row: row["body"] == "porcelain"),
        (["--glaze", "pond green"], lambda row: "pond green" in row["glazes"]),
        (
            ["--glaze", "black underglaze", "--glaze", "studio clear"],
            lambda row: {"black underglaze", "studio clear"} <= set(row["glazes"]),
        ),
        (["--cone", "^05"], lambda row: row["cone_reached"] == "05"),
        (["--cone", "5"], lambda row: row["cone_reached"] == "5"),
        (["--cone", "06-04"], lambda row: row["cone_reached"] in ("06", "05", "05½", "04", "04½")),
        (["--firing", "F12"], lambda row: row["firing"] == "F12"),
        (["--coats", "3"], lambda row: 3 in row["coats"]),
        (["--thickness-from-mm", "1"], lambda row: any(t and t >= 1 for t in row["thickness_mm"])),
        (
            ["--thickness-to-mm", "0.4"],
            lambda row: any(t and t <= 0.4 for t in row["thickness_mm"]),
        ),
        (["--defect", "Crawling"], lambda row: "crawling" in row["defects"]),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_each_option_keeps_exactly_the_rows_it_names(found, options, holds):
    rows = found(*options)
    assert rows
    assert rows == [row for row in found() if holds(row)]
    assert len(rows) < len(found())


def test_a_kiln_keeps_the_rows_of_its_firings(found, tiles):
    listed = json.loads(tiles("firing", "list", "--json").out)
    names = {row["name"] for row in listed if row["kiln"] == "front loader"}
    assert {row["firing"] for row in found("--kiln", "front loader")} == names & {
        row["firing"] for row in found()
    }


@pytest.fixture(scope="module")
def whole_tiles(sample_template, tmp_path_factory):
    """Every tile of the sample as ``tiles export`` writes it, read once."""
    file = tmp_path_factory.mktemp("export") / "all.json"
    with pytest.raises(SystemExit) as ended:
        run(["export", str(file), "--db", str(sample_template)])
    assert ended.value.code == 0
    return json.loads(file.read_text(encoding="utf-8"))["tiles"]


@pytest.mark.parametrize(
    ("options", "holds"),
    [
        (["--bisque-firing", "f03"], lambda tile: bisque_firing(tile) == "F03"),
        (["--firing", "F03"], lambda tile: bisque_firing(tile) == "F03"),
        (["--bisque-cone", "06"], lambda tile: bisque_cone(tile) == "06"),
        (["--bisque-cone", "08-06"], lambda tile: bisque_cone(tile) in ("08", "06")),
        (["--batch", "hc nov 2024"], lambda tile: "HC Nov 2024" in batches(tile)),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_tiles_are_found_by_bisque_and_batch(found, whole_tiles, options, holds):
    marks = {row["mark"] for row in found()}
    assert marks == {tile["mark"] for tile in whole_tiles}
    wanted = {tile["mark"] for tile in whole_tiles if holds(tile)}
    assert wanted and wanted != marks
    assert {row["mark"] for row in found(*options)} == wanted


@pytest.mark.parametrize("clue", ["holes_reach_clay=yes", "glaze_stirred=yes"])
def test_areas_are_found_by_a_clue_of_their_own_else_of_their_tile(found, whole_tiles, clue):
    name, answer = clue.split("=")
    told = {(tile["mark"], area["number"]): (tile["clues"] | area["clues"]).get(name)
            for tile in whole_tiles for area in tile["areas"]}  # fmt: skip
    wanted = {place for place, said in told.items() if said == answer}
    assert wanted and len(wanted) < len(told)
    assert {(row["mark"], row["area"]) for row in found("--clue", clue)} == wanted


def test_an_area_of_its_own_answer_is_not_found_by_that_of_its_tile(
    found, tile_of_two_areas, tiles
):
    clue = "holes_reach_clay"
    told = ["--clue", f"{clue}=yes", "--clue", f"{clue}=no@2"]
    assert tiles("change", "N-1", *told).code == 0
    areas = {answer: [row["area"] for row in found("--clue", f"{clue}={answer}")
                      if row["mark"] == "N-1"] for answer in ("yes", "no")}  # fmt: skip
    assert areas == {"yes": [1], "no": [2]}
    assert found("--clue", f"{clue}=yes", "--clue", f"{clue}=no") == []


def test_a_clue_to_find_is_one_of_the_list_and_names_no_area(sample, tiles):
    assert_one_line_error(tiles("find", "--clue", "bisque_dusti=yes"), "'bisque_dusty'")
    assert_one_line_error(tiles("find", "--clue", "bisque_dusty=yes@2"), "--clue bisque_dusty=yes.")


def test_a_bisque_without_a_witness_cone_is_found_by_the_cone_it_was_set_for(found, tiles):
    tiles("firing", "add", "B70", "--kind", "bisque", "--target-cone", "07")
    made = ["--body", "red earthenware", "--glaze", "studio clear", "--bisque-firing", "B70"]
    assert tiles("log", "--mark", "N-1", *made).code == 0
    assert [row["mark"] for row in found("--bisque-cone", "07")] == ["N-1"]


def bisque_firing(tile):
    return tile["bisque_firing"] and tile["bisque_firing"]["name"]


def bisque_cone(tile):
    """Where no bisque has a witness cone."""
    return tile["bisque_cone"] or (tile["bisque_firing"] and tile["bisque_firing"]["target_cone"])


def batches(tile):
    layers = [layer for area in tile["areas"] for layer in area["layers"]]
    return [layer["batch"]["name"] for layer in layers if layer["batch"]]


def test_options_add_up(found):
    rows = found("--glaze", "pond green", "--defect", "crawling", "--coats", "3")
    assert rows
    for row in rows:
        assert "crawling" in row["defects"]
        assert row["coats"][row["glazes"].index("pond green")] == 3


def test_nothing_found_is_valid_json_and_a_plain_sentence(found, tiles):
    assert found("--body", "porcelain", "--cone", "010") == []
    ran = tiles("find", "--body", "porcelain", "--cone", "010")
    assert (ran.code, ran.out, ran.err) == (0, "", "No such tile.\n")


@pytest.mark.parametrize(("typed", "meant"), [("5", "05"), ("06", "6")])
def test_a_cone_without_tiles_whose_twin_has_some_is_told_of_them(found, tiles, typed, meant):
    body = "porcelain" if "0" in typed else "red earthenware"
    options = ("--clean", "--body", body)
    there = len(found(*options, "--cone", meant))
    assert there > 0
    ran = tiles("find", *options, "--cone", typed)
    assert (ran.code, ran.out) == (0, "")
    assert f"At cone {meant}: {there} areas." in ran.err
    assert tiles("find", *options, "--cone", typed, "--json").err == ""


def test_tiles_set_for_the_cone_of_which_none_was_read_are_counted(found, tiles):
    tiles("firing", "add", "F70", "--target-cone", "05")
    for mark, more in {
        "N-1": [],
        "N-2": ["--shelf", "top"],
        "N-3": ["--cone-reached", "04"],
    }.items():
        log = ("log", "--mark", mark, "--body", "porcelain", "--firing", "F70", "--clean")
        assert tiles(*log, "--glaze", "pond green", "--coats", "1,2", *more, "--yes").code == 0
    asked = ("find", "--body", "porcelain", "--glaze", "pond green", "--clean", "--cone")
    said = (
        "2 more tiles were set for cone 05, but no cone was read. 'tiles find --firing F70' lists "
        "what was in it; a cone you did read goes in with 'tiles firing change F70 --witness-cone "
        "CONE'.\n"
    )
    assert said in tiles(*asked, "05").err
    assert said.replace("cone 05", "cone 06 to 05") in tiles(*asked, "06-05").err
    assert "more" not in tiles(*asked, "06").err
    assert "more" not in tiles(*asked, "05", "--csv").err
    assert "more" not in tiles(*asked[:-1]).err
    tiles("firing", "change", "F70", "--witness-cone", "05@top", "--yes")
    said = (
        "1 more tile was set for cone 05, but its shelf is not recorded, and in firing F70 cones "
        "were read by the shelf (for 1 all that was read is cone 05). Where you know it (top was "
        "read in F70): 'tiles change N-1 --shelf NAME'.\n"
    )
    assert said in tiles(*asked, "05").err
    assert tiles("change", "N-1", "--shelf", "low", "--yes").code == 0
    said = (
        "1 more tile was set for cone 05, but stood on a shelf that was not read, in firing F70 "
        "(for 1 all that was read is cone 05); a cone you did read goes in with 'tiles firing "
        "change F70 --witness-cone CONE@low'.\n"
    )
    assert said in tiles(*asked, "05").err
    assert tiles("firing", "change", "F70", "--witness-cone", "@top", "--yes").code == 0
    tiles("firing", "add", "F69", "--target-cone", "05")
    again = ("log", "--mark", "N-4", "--body", "porcelain", "--firing", "F69", "--clean", "--yes")
    assert tiles(*again, "--glaze", "pond green").code == 0
    told = "They were in firings F69, F70, so ask of each. 'tiles find --firing F69' lists what was"
    assert told in tiles(*asked, "05").err


def test_limit_cuts_rows_and_the_table_says_how_many_more(found, tiles):
    assert len(found("--limit", "3")) == 3
    ran = tiles("find", "--limit", "3")
    assert len(ran.out.splitlines()) == 5
    assert f"... and {len(found()) - 3} more" in ran.err


def test_csv_carries_the_same_rows(found, tiles):
    ran = tiles("find", "--defect", "crawling", "--csv")
    rows = list(csv.DictReader(io.StringIO(ran.out)))
    assert list(rows[0]) == KEYS
    asked = found("--defect", "crawling")
    assert [(row["mark"], row["area"]) for row in rows] == [
        (row["mark"], str(row["area"])) for row in asked
    ]
    # A spreadsheet would make 5 of a bare 05.
    cones = [row["cone_reached"] for row in asked]
    assert "05" in cones
    assert [row["cone_reached"] for row in rows] == [cone and f"^{cone}" or "" for cone in cones]


def test_the_table_tells_area_coat_cone_and_result(sample, tiles):
    lines = tiles("find", "--glaze", "pond green").out.splitlines()
    assert (
        lines[0].split()
        == "mark body glaze x coats, from the clay up mm cone firing result".split()
    )
    assert any("pond green x3" in line and "severe crawling" in line for line in lines)
    assert any(" / 3 " in line for line in lines)
    assert any("not inspected" in line for line in lines)


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--body", "red earthenwear"], ["'red earthenwear'", '"red earthenware"']),
        (["--glaze", "no such"], ["'no such'"]),
        (["--cone", "55"], ["'55'"]),
        (["--batch", "HC Nov 2026"], ["'HC Nov 2026'", "'HC Nov 202"]),
        (["--batch", "HC Nov 2024", "--glaze", "pond green"], ["on record for that glaze"]),
        (["--bisque-cone", "55"], ["'55'"]),
        (["--cone", "06-05-04"], ["'06-05-04'", "not a cone range"]),
        (["--defect", "crawlign"], ["'crawlign'", "'crawling'"]),
        (["--clean", "--faulty"], ["clean", "--faulty"]),
        (["--clean", "--defect", "crazing"], ["clean"]),
        (["--faulty", "--not-inspected"], ["nobody looked", "--not-inspected"]),
        (["--defect", "crazing", "--not-inspected"], ["nobody looked"]),
        (["--thickness-from-mm", "2", "--thickness-to-mm", "1"], ["2 mm", "-from-mm 1"]),
        (["--cone", "04-06"], ["backwards"]),
        (["--json", "--csv"], ["--json and --csv"]),
    ],
    ids=" ".join,
)
def test_find_refuses_in_one_line(sample, tiles, options, told):
    ran = tiles("find", *options)
    if "--json" in options:
        assert ran.code == 1
        assert told[0] in ran.err
        return
    assert_one_line_error(ran, *told)


def test_a_half_cone_is_answered_with_its_twin_as_a_whole_one_is(sample, tiles):
    given = ("--body", "red earthenware", "--glaze", "pond green", "--cone-reached", "05½")
    assert tiles("log", "--mark", "N-7", *given, "--clean").code == 0
    assert "At cone 05½: 1 area." in tiles("find", "--cone", "5½").err


def test_where_none_is_clean_the_faults_of_the_inspected_tiles_are_told(fresh, tiles):
    given = ("--body", "buff clay", "--glaze", "snow", "--cone-reached", "05", "--add-missing")
    seen = {
        "T-1": ["--defect", "crazing:slight", "--defect", "pinholes"],
        "T-2": ["--defect", "crazing", "--coats", "1,2"],
        "T-3": [],
    }
    for mark, more in seen.items():
        ran = tiles("log", *given, "--mark", mark, *more)
        assert ran.code == 0, ran.err
    asked = ("find", "--clean", "--cone", "05", "--glaze", "snow")
    ran = tiles(*asked)
    said = "None is clean: 2 tiles inspected, crazing on 2, pinholes on 1.\n"
    assert (ran.code, ran.out, ran.err) == (0, "", said)
    assert tiles(*asked, "--coats", "1").err == ("None is clean: 1 tile inspected, crazing on 1.\n")
    assert tiles(*asked[:-2], "--body", "buff clay", "--coats", "4").err == "No such tile.\n"
    assert tiles(*asked, "--json").out == "[]\n"


def test_a_csv_without_rows_has_the_header_of_one_with_rows(found, tiles):
    full, none = (tiles("find", *more, "--csv").out.splitlines() for more in ((), ("--cone", "14")))
    assert none == full[:1]


def test_a_fault_kept_in_words_of_ones_own_is_told_in_them(sample, tiles):
    made = ("--body", "red earthenware", "--glaze", "pond green=9", "--cone-reached", "05", "--yes")
    for mark, words in (("Z-1", "greasy"), ("Z-2", "greasy"), ("Z-3", "very odd ring")):
        assert tiles("log", "--mark", mark, *made, "--defect", f"severe other ({words})").code == 0
    asked = ("--glaze", "pond green", "--coats", "9")
    assert "severe other (greasy)\n" in tiles("find", *asked).out
    assert "other (greasy; very odd ring) 3" in tiles("palette", *asked).out
    assert "inspected, other (greasy; very odd ring) on 3." in tiles("find", *asked, "--clean").err
    rows = [json.loads(tiles(each, *asked, "--json").out) for each in ("find", "palette")]
    assert [row["other_words"] for row in rows[0]] == [["greasy"], ["greasy"], ["very odd ring"]]
    assert rows[1][0]["other_words"] == ["greasy", "very odd ring"]
