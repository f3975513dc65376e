"""``tiles find --clean``: tiles that were looked at before crazing could show."""

import pytest


def test_clean_tiles_looked_at_too_early_to_tell_of_late_crazing_are_named(fresh, tiles):
    given = ("--body", "buff clay", "--glaze", "snow", "--firing", "F1", "--cone-reached", "05")
    add = ("log", *given, "--add-missing")
    assert tiles("firing", "add", "F1", "--fired-on", "2025-01-01").code == 0
    for mark in ("T-1", "T-2", "T-3"):
        assert tiles(*add, "--mark", mark, "--clean", "--inspected-on", "2025-01-02").code == 0
    asked = ("find", "--clean", "--cone", "05", "--body", "buff clay")
    assert "Look again" not in tiles(*asked).err
    months = "of the 3 with a day of firing {} looked at 45 days after it or later."
    assert months.format("none was") in tiles(*asked).err
    assert tiles("inspect", "T-1", "--defect", "crazing", "--inspected-on", "2025-06-01").code == 0
    assert tiles("inspect", "T-2", "--clean", "--inspected-on", "2025-06-02").code == 0
    ran = tiles(*asked)
    assert (
        "Look again at T-3, last looked at 1 day after the firing (a look tells from 76 days on): "
        "the only crazing of snow was seen by 151 days after the firing; of 2 on "
        "buff clay looked at late enough 1 crazed." in ran.err
    )
    assert "T-3" in ran.out and "T-1" not in ran.out
    assert months.replace("the 3", "the 2").format("1 was") in ran.err
    assert tiles(*asked, "--json").err == ""
    alone = tiles(*asked[:2], "--note", "T-3").err
    assert "firing: this one was not looked at 45 days after it or later." in alone
    assert tiles("inspect", "T-3", "--clean", "--inspected-on", "2025-02-15").code == 0
    assert "Crazing can come" not in tiles(*asked).err
    assert tiles("change", "T-3", "--forget-inspection", "2025-02-15").code == 0
    # What can tell is counted over all tiles of the clay, not only over those asked for.
    assert "; of 2 on buff clay looked at" in tiles(*asked, "--firing", "F1").err


def test_crazing_there_at_once_on_one_clay_hides_none_that_comes_late_on_another(fresh, tiles):
    assert tiles("firing", "add", "F1", "--fired-on", "2025-01-01").code == 0
    for mark, body, day, *seen in (
        *((f"R-{n}", "red", "2025-01-02", "--defect", "crazing") for n in range(3)),
        ("W-1", "white", "2025-06-01", "--defect", "crazing"),
        ("W-2", "white", "2025-01-02", "--clean"),
        ("R-4", "red", "2025-01-02", "--clean"),
    ):
        made = ("--body", body, "--glaze", "snow", "--firing", "F1", "--add-missing")
        log = tiles("log", *made, "--mark", mark, "--inspected-on", day, *seen)
        assert log.code == 0, log.err
    (line,) = [x for x in tiles("find", "--clean").err.splitlines() if x.startswith("Look again")]
    assert line == (
        "Look again at W-2, last looked at 1 day after the firing (a look tells from 76 days on): "
        "the only crazing of snow on white was seen by 151 days after the firing; "
        "of 1 on white looked at late enough 1 crazed."
    )


@pytest.fixture
def late_on_five_glazes(fresh, tiles, tmp_path):
    """Two tiles of each glaze: one crazed half a year later, one was not looked at again."""
    lines = ["mark,body,glaze,firing,fired_on,inspected_on,defect_crazing"]
    for n in range(1, 6):
        lines.append(f"A-{n},red,glaze {n},F1,2025-01-01,2025-06-01,slight")
        lines.append(f"B-{n},red,glaze {n},F1,2025-01-01,2025-01-02,none")
    (tmp_path / "term.csv").write_text("\n".join(lines), encoding="utf-8")
    assert tiles("import", tmp_path / "term.csv", "--yes").code == 0


def test_the_lines_on_late_crazing_are_few_and_of_the_tiles_that_are_shown(
    late_on_five_glazes, tiles
):
    told = [line for line in tiles("find", "--clean").err.splitlines() if "Look" in line]
    assert [line[:18] for line in told[:3]] == [f"Look again at B-{n}," for n in (1, 2, 3)]
    assert told[3:] == ["Look again at tiles of glaze 4, glaze 5, too: --glaze NAME tells which."]
    one = tiles("find", "--clean", "--limit", "1").err
    assert "Look again at B-1," in one and one.count("Look again") == 1


def test_a_tile_without_a_day_of_firing_is_not_said_to_be_looked_at_soon_after_it(
    late_on_five_glazes, tiles
):
    log = ("log", "--mark", "C-1", "--body", "red", "--glaze", "glaze 1", "--clean")
    assert tiles(*log).code == 0
    assert (
        "Look again at B-1, last looked at 1 day after the firing (a look tells from 76 days on), "
        "and at C-1, of which no day of firing is on record: the only crazing of glaze 1 was "
        "seen by 151 days after"
    ) in tiles("find", "--clean", "--glaze", "glaze 1").err
