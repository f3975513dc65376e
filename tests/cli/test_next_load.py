"""A whole load failed: fix and next offer one control for all of it, and take its outcome."""

import json

import pytest

GLAZES = ("moss", "honey", "plum", "sage", "pond")


@pytest.fixture
def bad_load(fresh, tiles, tmp_path):
    """Of firing F9 7 of 10 tiles crawled, of four others 1 of 40."""
    lines = ["mark,body,glaze,coats,bisque_cone,firing,fired_on,target_cone,inspected_on,"
             "defect_crawling"]  # fmt: skip
    for n in range(10):
        seen = "slight" if n < 7 else "none"
        lines.append(f"L-{n},red,{GLAZES[n % 5]},2,04,F9,2026-03-01,^05,2026-03-02,{seen}")
    for n in range(40):
        fired, seen = f"F{n % 4},2026-02-01,^05,2026-02-02", "slight" if n == 9 else "none"
        lines.append(f"E-{n},red,{GLAZES[n % 5]},{2 + n % 5 % 2},04,{fired},{seen}")
    (tmp_path / "all.csv").write_text("\n".join(lines), encoding="utf-8")
    assert tiles("import", tmp_path / "all.csv", "--yes").code == 0


def read(tiles, *command):
    ran = tiles(*command)
    assert ran.code == 0, ran.err
    assert all(len(line) <= 80 for line in ran.out.splitlines()), ran.out
    return " ".join(ran.out.split())


COUNTS = "Whatever the glaze, firing F9: 7 of 10 tiles crawled; all others: 1 of 40."
CONTROL = "made exactly alike, in the next ordinary load, with a witness cone beside it"


def test_one_step_serves_a_load_that_failed_until_its_control_is_looked_at(bad_load, tiles):
    fix, of_tile = (read(tiles, command, "L-1") for command in ("fix", "next"))
    for told in (fix, of_tile):
        assert f"{COUNTS} So first suspect the load, not how this tile is made." in told
        assert f"{CONTROL}, before any glaze or coat is changed" in told
        assert "Meanwhile look at F9: its witness cones, schedule, cooling and vents" in told
        assert "coats 2" not in told
    assert f"(the control), {CONTROL}" in fix
    assert "Only if it comes again, one change on each tile:" in read(tiles, "fix", "L-1", "--all")
    (row, *others) = json.loads(tiles("next", "--json").out)
    assert (row["of"], row["failed"], row["inspected"], row["state"]) == (
        "firing F9",
        7,
        10,
        "fire",
    )
    (control,) = row["tiles"]
    assert control["trial_change"] == "as it was"
    # What crawled in another load is asked about by itself, and nothing else is left.
    assert [(each["of"], each["failed"], each["mark"]) for each in others] == [("pond", 1, "E-9")]
    studio = read(tiles, "next")
    assert studio.startswith(f"For a firing to cone 05, 1 tile: {COUNTS} So first suspect")
    assert f"nothing changed (the control: {CONTROL})" in studio

    mark = control["mark"]
    assert tiles("next", "--plan", "--yes").code == 0
    for command in ("fix", "next"):
        told = read(tiles, command, "L-1")
        assert f"{mark} (on record already), as a tile of F9 was made: fire it" in told
        assert "There is no" in tiles(command, "L-1", "--plan", "--yes").err
    assert json.loads(tiles("next", "--json").out)[0]["state"] == "waiting"

    assert (
        tiles("firing", "add", "F10", "--target-cone", "05", "--fired-on", "2026-03-08").code == 0
    )
    assert tiles("load", "F10", mark, "--yes").code == 0
    assert tiles("inspect", mark, "--clean", "--inspected-on", "2026-03-09").code == 0
    (row,) = [r for r in json.loads(tiles("next", "--json").out) if r["of"] == "firing F9"]
    assert (row["state"], row["tiles"]) == ("whole load", [])
    for command in ("fix", "next"):
        told = read(tiles, command, "L-1")
        assert "So it was the load, not how this tile is made." in told
        assert "hange no glaze or coat for it, and fire no tile." in told
    failed = row["mark"]
    assert "so it was load F9 and not how the tile is made" in read(tiles, "next", failed)
    assert f"as it was, in another load ({mark})" in read(tiles, "why", failed)
