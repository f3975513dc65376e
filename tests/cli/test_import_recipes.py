"""Recipes on the rows of a sheet: which tiles they are of, and what is never filled in."""

import json

from tests.cli.records import assert_one_line_error
from tests.cli.sheets import marks


def test_a_glaze_whose_recipe_stands_on_a_later_row_is_stored_as_one(fresh, tiles, write):
    file = write("mark,body,glaze,recipe", "A-1,red clay,pond,", "A-2,red clay,pond,whiting=100")
    tiles("import", str(file))
    assert marks(tiles) == ["A-1", "A-2"]


RECIPE = "whiting=40; silica=60"
POND = "mark,body,glaze,recipe"


def versions(tiles, *wanted: str) -> list[int | None]:
    found = [json.loads(tiles("show", mark, "--json").out) for mark in wanted]
    recipes = [each["areas"][0]["layers"][0]["recipe"] for each in found]
    return [recipe and recipe["version"] for recipe in recipes]


def test_a_recipe_that_stands_on_one_row_is_that_of_all_tiles_with_the_glaze(fresh, tiles, write):
    rows = "A-1,red clay,pond,", f"A-2,red clay,Pond,{RECIPE}", "A-3,red clay,moss,"
    ran = tiles("import", write(POND, *rows, "A-4,red clay,pond,not recorded"))
    assert ran.code == 0 and "several recipes" not in ran.err
    assert versions(tiles, "A-1", "A-2", "A-3", "A-4") == [1, 1, None, None]


def test_a_recipe_on_a_refused_row_is_that_of_the_other_tiles_and_the_row_can_follow(
    fresh, tiles, write
):
    header = "mark,body,body_kind,glaze,glaze_finish,coats,recipe"
    file = write(header, f"A-1,red,earthenware,pond,matt,zzz,{RECIPE}", "A-2,red,,pond,,2,")
    assert tiles("import", file, "--skip-refused").code == 3
    record = json.loads(tiles("show", "A-2", "--json").out)
    glaze = record["areas"][0]["layers"][0]["glaze"]
    assert (record["body"]["kind"], glaze["kind"], glaze["finish"]) == (
        "earthenware", "recipe", "matt",
    )  # fmt: skip
    (refused,) = file.parent.glob("*.refused-*.csv")
    refused.write_text(refused.read_text(encoding="utf-8").replace("zzz", "2"), encoding="utf-8")
    assert tiles("import", refused).code == 0
    assert versions(tiles, "A-1", "A-2") == [1, 1]


def test_a_recipe_on_record_that_no_row_names_is_told_with_the_way_to_add_it(fresh, tiles, write):
    lines = ("--line", "whiting=40", "--line", "silica=60")
    assert tiles("recipe", "add", "pond", *lines, "--yes").code == 0
    ran = tiles("import", write("mark,body,glaze", "A-1,red clay,pond", "A-2,red clay,moss"))
    assert ran.code == 0
    assert "pond has a recipe on record, but the file names none for A-1." in ran.err
    assert "moss has" not in ran.err
    assert versions(tiles, "A-1") == [None]
    again = write(POND, f"A-1,red clay,pond,{RECIPE}", "A-2,red clay,moss,")
    assert tiles("import", again, "--replace").code == 0
    assert versions(tiles, "A-1") == [1]


def test_replace_takes_a_recipe_away_only_where_that_is_said(fresh, tiles, write):
    assert tiles("import", write(POND, f"A-1,red clay,pond,{RECIPE}")).code == 0
    bare = write("mark,body,glaze,coats", "A-1,red clay,Pond,2")
    ran = tiles("import", bare, "--replace")
    assert_one_line_error(ran, "A-1 would lose the recipe of pond", "--allow-loss")
    assert versions(tiles, "A-1") == [1]
    ran = tiles("import", bare, "--replace", "--allow-loss")
    assert (ran.code, "A-1 lost the recipe of pond." in ran.err) == (0, True)
    assert versions(tiles, "A-1") == [None]


def test_where_two_recipes_can_be_meant_none_is_filled_in_and_one_line_says_so(fresh, tiles, write):
    rows = "A-1,red clay,pond,", f"A-2,red clay,pond,{RECIPE}", "A-3,red clay,pond,silica=1"
    told = "pond has several recipes, and none was filled in where it is blank: {}."
    assert told.format("A-1") in tiles("import", write(POND, *rows)).err.splitlines()
    rows = "B-1,red clay,pond,", f"B-2,red clay,pond,{RECIPE}", "B-3,red clay,pond,"
    ran = tiles("import", write(POND, *rows))
    assert told.format("B-1, B-3") in ran.err.splitlines(), "the other one is on record"
    assert versions(tiles, "A-1", "B-1", "B-2") == [None, None, 1]
