"""``tiles find`` beside each clean tile: how many made alike were clean."""

import json

import pytest


@pytest.fixture
def found_as_json(tiles):
    return lambda *options: json.loads(tiles("find", *options, "--json").out)


def test_a_clean_tile_says_how_many_made_like_it_were_clean(fresh, tiles, found_as_json):
    made = ("--body", "red", "--glaze", "ink=2", "--glaze", "toad=3", "--cone-reached", "05")
    for mark, more in {
        "T-1": ["--clean"],
        "T-2": ["--defect", "crawling"],
        "T-3": ["--defect", "crawling:slight", "--firing", "F9"],
        "T-4": [],  # not inspected
    }.items():
        assert tiles("log", "--mark", mark, *made, *more, "--add-missing").code == 0
    like = {
        "T-5": ("--body", "red", "--glaze", "ink=2", "--glaze", "toad=2", "--cone-reached", "05"),
        "T-6": ("--body", "white", *made[2:]),
        "T-7": (*made[:-1], "06"),
        "T-8": ("--body", "red", "--glaze", "toad=3", "--glaze", "ink=2", "--cone-reached", "05"),
    }
    for mark, other in like.items():
        ran = tiles("log", "--mark", mark, *other, "--defect", "crawling", "--add-missing")
        assert ran.code == 0, ran.err
    ran = tiles("find", "--clean")
    (line,) = ran.out.splitlines()[2:]
    assert line.endswith("  1 of 3; but x2 + x2")
    assert "But at least half failed of: ink x2 + toad x2 (crawling 1 of 1)." in ran.err
    # Also of tiles that the search itself leaves out.
    counts = [(row["mark"], row["alike_clean"], row["alike_tiles"]) for row in
              found_as_json("--firing", "F9")]  # fmt: skip
    assert counts == [("T-3", 1, 3)]
    assert {row["mark"]: row["alike_tiles"] for row in found_as_json("--not-inspected")} == {
        "T-4": 3
    }


def test_versions_of_a_recipe_are_not_made_alike(fresh, tiles, found_as_json):
    recipe = ("recipe", "add", "pink", "--line", "silica=40", "--yes", "--line")
    log = ("log", "--body", "red", "--glaze", "pink=2", "--add-missing", "--mark")
    assert tiles(*recipe, "whiting=60").code == 0
    assert tiles(*log, "T-1", "--defect", "running").code == 0
    assert tiles(*recipe, "whiting=50").code == 0
    assert tiles(*log, "T-2", "--clean").code == 0
    (row,) = found_as_json("--clean")
    assert (row["mark"], row["alike_clean"], row["alike_tiles"]) == ("T-2", 1, 1)
    assert "pink v2 x2" in tiles("find", "--clean").out


def test_a_clean_area_tells_of_a_faulty_one_made_alike_on_its_tile(fresh, tiles, found_as_json):
    alike = ("--glaze", "pond", "--coats", "2,2", "--body", "red", "--add-missing")
    ran = tiles("log", "--mark", "B-1", *alike, "--defect", "crawling@2")
    assert ran.code == 0, ran.err
    ran = tiles("find", "--clean")
    assert ran.out.rstrip().endswith("0 of 1; area 2 not")
    (row,) = found_as_json("--clean")
    assert (row["area"], row["alike_clean"], row["alike_tiles"]) == (1, 0, 1)


def test_of_one_batch_those_of_it_are_counted(fresh, tiles, found_as_json):
    log = ("log", "--body", "red", "--glaze", "pond=2", "--add-missing", "--yes", "--mark")
    made = [("B-1", "old"), ("B-2", "old"), ("B-3", "new"), ("B-4", "new")]
    for mark, batch in made:
        seen = "--defect=crawling" if mark == "B-4" else "--clean"
        ran = tiles(*log, mark, "--batch", batch, seen)
        assert ran.code == 0, ran.err
    (row,) = found_as_json("--batch", "new", "--clean")
    assert (row["mark"], row["alike_clean"], row["alike_tiles"]) == ("B-3", 1, 2)
    assert found_as_json("--clean")[2]["alike_tiles"] == 4


def test_a_clean_tile_says_with_what_other_coats_the_glaze_failed(fresh, tiles):
    log = ("log", "--glaze", "pond", "--cone-reached", "05", "--add-missing", "--mark")
    for mark, body, coats, *seen in (
        ("P-1", "red", "1", "--clean"),
        ("P-2", "red", "3", "--defect=crawling"),
        ("P-3", "white", "1", "--clean"),
        ("P-4", "white", "1", "--defect=crazing"),
    ):
        assert tiles(*log, mark, "--body", body, "--coats", coats, *seen).code == 0
    for options in ((), ("--body", "red", "--coats", "1")):
        ran = tiles("find", "--clean", *options)
        assert any(each.endswith("1 of 1; but x3") for each in ran.out.splitlines()), ran.out
    ran = tiles("find", "--clean")
    assert "1 of 2; but x3 on red" in " ".join(ran.out.split())
    assert "  made so: clean" in ran.out
    told = " ".join(ran.err.split())
    assert "But at least half failed of: pond x3 on red (crawling 1 of 1)." in told
