"""``tiles compare``: the table, the words, and the shapes for other programs."""

import csv
import io
import json
import re
from types import SimpleNamespace

import pytest

from diagnose.comparing.factors import ALSO_CALLED, FACTORS
from tests.cli.records import assert_one_line_error
from tiles.cli import compare

ASKED = ("compare", "--glaze", "pond green", "--by", "coats")


def test_table_has_a_column_for_each_group_and_words_follow(sample, tiles):
    told = tiles(*ASKED).out
    assert told.startswith("pond green by coats: ")
    assert "1 coat  2 coats  3 coats" in told
    assert "crawling: more often towards 4 coats; chance alone" in told
    assert "What goes with a defect need not cause it" in " ".join(told.split())


def test_json_counts_add_up(sample, tiles):
    found = json.loads(tiles(*ASKED, "--json").out)
    assert found["glaze"] == "pond green"
    assert len(found["groups"]) == len(found["tiles"])
    for outcome in found["outcomes"]:
        assert all(f <= n for f, n in zip(outcome["failed"], found["tiles"], strict=True))


def test_csv_has_one_row_for_each_defect_and_group(sample, tiles):
    found = json.loads(tiles(*ASKED, "--json").out)
    rows = list(csv.DictReader(io.StringIO(tiles(*ASKED, "--csv").out)))
    assert len(rows) == len(found["outcomes"]) * len(found["groups"])
    assert set(rows[0]) == {"defect", "group", "failed", "tiles", "p_value"}


def test_a_csv_without_a_row_has_the_same_header(sample, tiles):
    empty = tiles("compare", "--by", "kiln", "--glaze", "mustard yellow", "--csv")
    full = tiles("compare", "--glaze", "pond green", "--by", "coats", "--csv")
    assert empty.out == full.out.splitlines(keepends=True)[0]


def test_one_defect_alone(sample, tiles):
    found = json.loads(tiles(*ASKED, "--defect", "crawled", "--json").out)
    assert [each["defect"] for each in found["outcomes"]] == ["crawling"]


def test_dash_underscore_and_space_are_one(sample, tiles):
    asked = [tiles("compare", "--by", name).out for name in ("bisque cone", "bisque_cone",
                                                             "bisque-cone")]  # fmt: skip
    assert len(set(asked)) == 1
    assert "cone 04" in asked[0]


def test_no_pair_is_said_plainly_with_a_way_on(sample, tiles):
    tiles("glaze", "add", "new jar", "--kind", "jar", "--role", "glaze")
    told = " ".join(tiles("compare", "--glaze", "new jar", "--by", "coats").out.split())
    assert "no such tile was inspected" in told and "tiles plan" in told
    told = " ".join(tiles("compare", "--glaze", "iron wash", "--by", "coats").out.split())
    assert "no two inspected tiles are alike but for coats" in told and "tiles plan" in told


def test_what_is_the_same_on_all_tiles_is_said_to_be_so(sample, tiles):
    told = tiles("compare", "--by", "year", "--since", "2025", "--until", "2025").out
    assert "it is 2025 on all of them, so nothing can be compared." in " ".join(told.split())
    assert "tiles plan" not in told


def test_unknown_words_are_refused(sample, tiles):
    assert_one_line_error(tiles("compare", "--by", "moon"), "'moon'", "one of body, glaze")
    assert_one_line_error(tiles("compare", "--by", "coats", "--glaze", "no such"), "no such")
    both = tiles(*ASKED, "--json", "--csv")
    assert (both.code, both.out) == (1, "")
    assert "--json and --csv together" in both.err


def test_a_table_wider_than_the_screen_is_turned(sample, tiles, monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    lines = tiles("compare", "--by", "glaze").out.splitlines()
    assert max(map(len, lines)) <= 80
    head = next(line for line in lines if line.split()[:2] == ["running", "crawling"])
    row = next(line for line in lines if line.startswith("pond green "))
    assert row.index("of") < head.index("crawling")
    assert "With them it is" not in " ".join(lines)  # of 23 groups, and none of them named
    found = json.loads(tiles("compare", "--by", "glaze", "--json").out)["outcomes"]
    told = " ".join(lines)
    assert "(No room for shivering.)" in told
    assert all(each["defect"] in told for each in found[:6])
    assert f"{len(found) - 6} more defects came on them: --defect, or --json." in told


def test_tiles_whose_areas_differ_are_counted_once_in_all(sample, tiles):
    found = json.loads(tiles("compare", "--glaze", "pond green", "--by", "coats", "--json").out)
    told = " ".join(tiles("compare", "--glaze", "pond green", "--by", "coats").out.split())
    assert found["different_tiles"] < sum(found["tiles"])
    assert f"{found['different_tiles']} tiles, counted {sum(found['tiles'])} times" in told
    inspected = {
        each["mark"]
        for how in ("--clean", "--faulty")
        for each in json.loads(tiles("find", "--glaze", "pond green", how, "--json").out)
    }
    assert found["different_tiles"] + found["alone"] + found["blank"] == len(inspected)


def test_what_could_not_be_held_alike_stands_before_the_verdicts(sample, tiles):
    told = " ".join(tiles("compare", "--by", "kiln").out.split())
    assert told.index("Not alike, for want of tiles: cone aimed at") < told.index("more often with")


def test_what_lies_under_the_glaze_is_compared_by_the_names_people_try(sample, tiles):
    asked = [tiles("compare", "--by", name).out for name in ("under", "underglaze", "slip")]
    assert len(set(asked)) == 1
    assert asked[0].startswith("All tiles by what lies under the glaze: ")
    found = json.loads(tiles("compare", "--by", "under", "--json").out)
    assert {"bare clay", "white slip"} <= set(found["groups"])
    assert "top glaze" in found["alike"]


def test_who_was_left_out_is_said_where_all_came_out_clean(fresh, tiles, tmp_path):
    header = "mark,body,glaze,shelf,inspected_on,defect_crawling"
    rows = [
        f"T-{n},red,moss,{shelf},2026-03-01,{seen}"
        for n, (shelf, seen) in enumerate(
            [("top", "none"), ("middle", "none"), ("", "slight"), ("", "none")]
        )
    ]
    file = tmp_path / "tiles.csv"
    file.write_text("\n".join([header, *rows]) + "\n", encoding="utf-8")
    assert tiles("import", str(file)).code == 0
    told = tiles("compare", "--by", "shelf").out
    assert told.endswith(
        "All of them came out clean.\n\n"
        "Left out: 2 without shelf recorded (among them crawling on 1).\n"
    )


def test_a_group_that_nothing_is_told_of_is_named_with_its_faults(sample, tiles):
    told = " ".join(tiles("compare", "--by", "bisque firing", "--defect", "crazing").out.split())
    assert re.search(r"recorded \(of these \d+, crazing on ", told)
    assert "Nothing is told of F14 (19 tiles, crazing on 3)." in told


def test_bisque_is_the_cone_of_the_bisque(sample, tiles):
    asked = ("compare", "--glaze", "pond green", "--by")
    assert tiles(*asked, "bisque").out == tiles(*asked, "bisque cone").out
    assert tiles(*asked, "bisque firing", "--json").out != tiles(*asked, "bisque", "--json").out


def test_a_fault_that_needs_two_things_is_asked_for_with_one_held(tiles, fresh, tmp_path):
    """Crawls with three coats on a soft bisque only."""
    records = [
        {
            "mark": f"K-{coats}-{cone}-{n}",
            "body": {"name": "red clay", "kind": "earthenware"},
            "bisque_cone": cone,
            "firing": {"name": "F1", "kiln": "Agnes" if n < 5 else "Tom"},
            "areas": [{"number": 1, "layers": [{"glaze": "kelp", "coats": coats}]}],
            "inspections": [{"inspected_on": "2026-01-01", "defects":
                             [{"defect": "crawling"}] * (coats == 3 and cone == "06")}],
        }
        for coats in (2, 3) for cone in ("06", "04") for n in range(5)
    ]  # fmt: skip
    file = tmp_path / "kelp.json"
    file.write_text(json.dumps(records))
    assert tiles("import", file).code == 0
    ask = ("compare", "--glaze", "kelp", "--by", "bisque", "--kiln", "agnes")
    told = " ".join(tiles(*ask, "--coats", "3").out.split())
    assert told.startswith("kelp with 3 coats from agnes by bisque cone: 10 tiles")
    assert "5 of 5 0 of 5" in told
    found = json.loads(tiles(*ask, "--coats", "2", "--json").out)
    assert (found["held_to"], found["outcomes"]) == ({"coats": 2, "kiln": "agnes"}, [])


def test_what_is_compared_cannot_be_held(sample, tiles):
    assert_one_line_error(tiles(*ASKED, "--coats", "3"), "--by coats compares", "one of the two")
    said = tiles("compare", "--by", "bisque", "--bisque-cone", "06")
    assert_one_line_error(said, "what --bisque-cone holds", "one of the two")


def test_batches_are_compared_within_one_glaze(sample, tiles):
    assert_one_line_error(tiles("compare", "--by", "batch"), "--glaze")
    assert tiles("compare", "--by", "batch", "--glaze", "pond green").code == 0


def test_the_answers_to_a_clue_can_be_compared_but_no_look_of_the_fault(sample, tiles):
    made = ("log", "--body", "porcelain", "--glaze", "oat matt=2", "--inspected-on", "2026-03-01")
    for number in range(6):
        seen = ("--defect", "unwanted_matt") if number < 3 else ("--clean",)
        answer = "yes" if number < 3 else "no"
        mark = ("--mark", f"C-{number}", "--clue", f"cooled_slowly={answer}")
        assert tiles(*made, *mark, *seen).code == 0
    for asked in ("cooled_slowly", "Cooled slowly"):
        ran = tiles("compare", "--glaze", "oat matt", "--by", asked, "--json")
        found = json.loads(ran.out)
        assert (found["by"], found["groups"]) == ("cooled slowly", ["no", "yes"])
        (matt,) = (each for each in found["outcomes"] if each["defect"] == "unwanted matt")
        assert (matt["failed"], matt["tiles"]) == ([0, 3], [3, 3])
    assert_one_line_error(tiles("compare", "--by", "worst_where_thick"), "not a known thing")


@pytest.mark.parametrize(
    ("asked", "factor"),
    [("over", "top glaze"), ("Order", "glaze"), ("what lies over", "top glaze"), ("pair", "glaze")],
)
def test_what_lies_over_and_the_order_of_layers_are_asked_for_in_plain_words(asked, factor):
    assert compare._read_by(asked) == factor


@pytest.mark.parametrize(("many", "is_cut"), [(12, False), (13, True)])
def test_of_many_groups_those_without_a_fault_are_only_counted(many, is_cut):
    failed = [2, *[0] * (many - 1)]
    outcome = SimpleNamespace(defect="crawling", failed=failed, tiles=[3] * many)
    groups = [f"glaze {number}" for number in range(many)]
    found = SimpleNamespace(groups=groups, tiles=[3] * many, outcomes=[outcome])
    told = "\n".join(compare._table(found, compare.MOST_SHOWN))
    assert ("2 of 3" in told, "0 of 3" in told) == (True, not is_cut)
    assert ("(None of these on 12 more: --all.)" in told) is is_cut
    assert "0 of 3" in "\n".join(compare._table(found, None))


def test_of_more_groups_than_a_screen_holds_those_with_most_faults_are_shown():
    many = compare.MOST_SHOWN + 4
    failed = [1 + number % 2 for number in range(many)]
    outcome = SimpleNamespace(defect="crawling", failed=failed, tiles=[3] * many)
    groups = [f"glaze {number}" for number in range(many)]
    found = SimpleNamespace(groups=groups, tiles=[3] * many, outcomes=[outcome])
    told = compare._table(found, compare.MOST_SHOWN)
    assert told[-1] == "(The 16 with most faults; --all has 4 more.)"
    assert sum("2 of 3" in line for line in told) == many / 2
    assert len(compare._table(found, None)) == many + 1


def test_all_that_can_be_compared_by_stands_in_the_help(tiles):
    told = " ".join(tiles("compare", "--help").out.split())
    listed = told.partition("What they differ in: ")[2].partition("; or a clue.")[0]
    listed = [re.sub(r" \(.*\)", "", each) for each in listed.split(", ")]
    known = [ALSO_CALLED.get(each, each) for each in listed]
    assert sorted(known) == sorted(FACTORS)


def test_of_many_groups_in_which_nothing_failed_none_is_said_to_have_most_faults():
    found = SimpleNamespace(outcomes=[], groups=["A", "B", "C"], tiles=[4, 5, 6])
    assert compare._table(found, 2)[-1] == "(2 of 3 groups; --all has 1 more.)"
    assert len(compare._table(found, None)) == 2
