"""``tiles show`` without a mark: what the record holds, each count by the command beside it."""

import json

import pytest

from tests.cli.records import assert_one_line_error


@pytest.fixture
def counts(sample, tiles):
    assert tiles("glaze", "add", "ember", "--remark", "lead frit").code == 0
    return json.loads(tiles("show", "--json").out)


def listed(tiles, *command):
    return json.loads(tiles(*command, "--json").out)


def marks(tiles, *options):
    return len({row["mark"] for row in listed(tiles, "find", *options)})


def test_each_count_is_what_the_command_beside_it_lists(counts, tiles):
    assert counts["tiles"] == marks(tiles)
    for year, many in counts["by_year"].items():
        assert marks(tiles, "--since", year, "--until", year) == many > 0
    assert sum(counts["by_year"].values()) + counts["without_day"] == counts["tiles"]
    assert counts["tiles"] - counts["inspected"] == marks(tiles, "--not-inspected")
    assert counts["inspected"] - counts["clean"] == marks(tiles, "--faulty")
    for defect, many in counts["tiles_with"].items():
        assert marks(tiles, "--defect", defect) == many
    for blank, many in counts["blank"].items():
        assert marks(tiles, "--blank", blank.replace(" ", "-")) == many
    assert counts["blank"]["firing"] and counts["blank"]["thickness"]
    for key, noun in (("bodies", "body"), ("kilns", "kiln")):
        rows = {row["name"]: row["tiles"] for row in listed(tiles, noun, "list")}
        assert counts[key] == rows
        assert [*counts[key].values()] == sorted(rows.values(), reverse=True)
    firings = [row["kind"] for row in listed(tiles, "firing", "list")]
    assert (counts["firings"]["bisque"], counts["firings"]["glaze"]) == (
        firings.count("bisque"), len(firings) - firings.count("bisque")
    )  # fmt: skip
    glazes = listed(tiles, "glaze", "list")
    assert counts["glazes"] == {
        "on_tiles": sum(row["tiles"] > 0 for row in glazes),
        "on_no_tile": ["ember"],
        "retired": [row["name"] for row in glazes if row["retired"]],
        "with_remark": sum(row["remark"] is not None for row in glazes),
        "batches": len(listed(tiles, "batch", "list")),
    }
    assert counts["hazards"]["lead"] == ["ember"]
    doubts = listed(tiles, "find", "--doubtful")
    assert counts["doubts"] == len(doubts) > 0
    assert counts["doubtful_tiles"] == len({mark for row in doubts for mark in row["marks"]})


def test_the_screen_names_a_command_for_each_and_fits(counts, tiles):
    out = tiles("show").out
    lines = out.splitlines()
    assert len(lines) <= 24 and max(map(len, lines)) <= 80
    assert "1 on none (ember)" in out and "lead in ember" in out
    for command in ("--faulty", "--not-inspected", "--blank thickness", "--doubtful"):
        assert f"'tiles find {command}')" in out
    assert tiles("glaze", "remove", "ember", "--yes").code == 0
    assert "ember" not in tiles("show").out


def test_a_firing_without_a_cone_is_counted_and_an_empty_record_has_no_shares(fresh, tiles):
    assert tiles("body", "add", "red").code == 0
    assert tiles("show").out.startswith("tiles      none yet\nfirings    0 glaze, 0 bisque")
    made = ("--body", "red", "--glaze", "snow", "--add-missing", "--clean")
    assert tiles("log", *made, "--mark", "T-1", "--firing", "F1").code == 0
    assert "; no cone was read of 1 glaze firing " in " ".join(tiles("show").out.split())
    assert tiles("firing", "change", "F1", "--witness-cone", "05", "--yes").code == 0
    assert "no cone was read" not in tiles("show").out


def test_what_can_be_blank_is_named_where_another_word_is_asked_for(sample, tiles):
    ran = tiles("find", "--blank", "shelves")
    assert_one_line_error(ran, "'shelves' is not a known field to be blank. Try: 'shelf', or one")
