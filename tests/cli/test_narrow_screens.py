"""Lists and cards on narrow screens: nothing is cut, words stay whole, no line is too wide."""

import pytest

TABLES = (
    ("find", "--faulty"),
    ("find", "--clean"),
    ("palette",),
    ("body", "list"),
    ("glaze", "list"),
    ("firing", "list"),
    ("kiln", "list"),
    ("recipe", "list"),
    ("material", "list"),
    ("clues",),
    ("words",),
    ("cone", "05"),
    ("plan", "--body", "red earthenware", "--glaze", "pond green", "--dry-run"),
)
CARDS = (
    ("show", "M-41"),
    ("body", "show", "red earthenware"),
    ("glaze", "show", "studio clear"),
    ("firing", "show", "F05"),
    ("cone", "--temperature-c", "1040"),
    ("next", "--body", "porcelain"),
    ("fix", "M-41", "--all"),
    ("next", "M-41", "--all"),
    ("why", "--glaze", "pond green", "--defect", "crawling"),
)


@pytest.fixture
def on_a_screen(tiles, monkeypatch):
    """Run a command as on a terminal of so many columns."""

    def run_there(columns, *arguments):
        monkeypatch.setenv("COLUMNS", str(columns))
        monkeypatch.setattr("sys.stdout.isatty", lambda: True)
        return tiles(*arguments).out

    return run_there


@pytest.mark.parametrize("columns", [50, 60, 80, 120])
@pytest.mark.parametrize("arguments", TABLES, ids=" ".join)
def test_a_table_fits_the_screen_and_loses_no_word(sample, tiles, on_a_screen, columns, arguments):
    in_full = tiles(*arguments).out
    out = on_a_screen(columns, *arguments)
    assert max(map(len, out.splitlines())) <= columns
    assert set(_words(in_full)) == set(_words(out))


def test_nearly_every_row_of_the_sheet_for_the_wall_is_one_line(sample, on_a_screen):
    lines = on_a_screen(80, "palette", "--cone", "05").splitlines()
    start = next(at for at, line in enumerate(lines) if line.startswith("---")) + 1
    table = lines[start : lines.index("", start)]
    rows = [line for line in table if line[:1].isdigit()]
    assert len(rows) > 40 and len(table) < 1.3 * len(rows)


@pytest.mark.parametrize("columns", range(1, 12))
def test_a_table_is_told_letter_by_letter_on_the_narrowest_screen(sample, on_a_screen, columns):
    out = on_a_screen(columns, "firing", "list")
    assert "F12" in "".join(out.split())


@pytest.mark.parametrize("arguments", CARDS, ids=" ".join)
def test_a_card_fits_the_screen_and_loses_no_word(sample, on_a_screen, arguments):
    wide, narrow = (on_a_screen(columns, *arguments) for columns in (120, 50))
    assert max(map(len, narrow.splitlines())) <= 50
    assert _words(wide) == _words(narrow)


def _words(text):
    """All but the dashes beneath headings."""
    return [word for word in text.split() if set(word) != {"-"}]


def test_the_witness_cone_of_every_shelf_is_told_in_a_row_that_goes_on_below(
    sample, tiles, on_a_screen
):
    tiles("firing", "add", "Z1", "--kiln", "top loader", "--target-cone", "05",
          "--witness-cone", "05@top", "--witness-cone", "06@bottom")  # fmt: skip
    for columns in (50, 80):
        lines = on_a_screen(columns, "firing", "list").splitlines()
        (at,) = [at for at, line in enumerate(lines) if line.startswith("Z1 ")]
        assert "05 (top) + 06 (bottom)" in lines[at + 1]
        assert lines[at + 1].startswith("    ")


def test_a_column_that_is_blank_on_every_row_is_left_out(fresh, tiles):
    made = ("log", "--body", "red", "--glaze", "moss", "--add-missing", "--clean")
    assert tiles(*made, "--mark", "A-1").code == 0
    head = tiles("find").out.splitlines()[0]
    assert head.split("  ")[0] == "mark" and head.endswith("result")
    assert not {"mm", "cone", "firing"} & set(head.split())
    assert tiles("glaze", "list").out.splitlines()[0].split() == [
        "glaze", "kind", "role", "tiles", "retired"
    ]  # fmt: skip
    assert tiles(*made, "--mark", "A-2", "--thickness-mm", "0.5").code == 0
    assert " mm " in tiles("find").out
    assert "thickness_mm" in tiles("find", "--csv").out.splitlines()[0]
