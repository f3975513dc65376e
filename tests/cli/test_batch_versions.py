"""Buckets and the versions of recipes: a tile of another version than all others of its bucket."""

import pytest

MIX = ("--line", "soda feldspar=50", "--line", "silica=30")
LOG = ("log", "--body", "buff", "--glaze", "white", "--add-missing")
TOLD = "all other tiles from batch lot B of version 2"


@pytest.fixture
def two_buckets(fresh, tiles):
    """Lot A is of version 1 of white (A-1), lot B of version 2 (B-1, B-2); spare is unused."""
    for more in (("--line", "whiting=20"), ()):
        assert tiles("recipe", "add", "white", *MIX, *more).code == 0
    for lot in ("lot A", "lot B", "spare"):
        assert tiles("batch", "add", "white", lot).code == 0
    for mark, version, lot in (("A-1", 1, "lot A"), ("B-1", 2, "lot B"), ("B-2", 2, "lot B")):
        made = ("--mark", mark, "--recipe-version", str(version), "--batch", lot)
        ran = tiles(*LOG, *made)
        assert ran.code == 0, ran.err
        assert "Check" not in ran.err
    assert tiles("firing", "add", "F1").code == 0
    return fresh


def _err(tiles, *command):
    ran = tiles(*command)
    assert ran.code == 0, ran.err
    return " ".join(ran.err.split())


def test_a_tile_of_another_version_is_told_when_it_is_logged(two_buckets, tiles):
    told = _err(tiles, *LOG, "--mark", "C-1", "--recipe-version", "1", "--batch", "lot B")
    assert f"C-1 is of version 1 of white, {TOLD}." in told
    assert "tiles change C-1 --recipe-version 2" in told
    assert TOLD not in _err(tiles, "change", "C-1", "--recipe-version", "2")


def test_it_is_told_when_its_batch_is_changed_and_when_it_is_loaded(two_buckets, tiles):
    for mark in ("C-1", "C-2"):
        assert tiles(*LOG, "--mark", mark, "--recipe-version", "1").code == 0
    assert TOLD in _err(tiles, "change", "C-1", "--batch", "lot B")
    assert tiles("change", "C-1", "--batch", "lot A").code == 0
    told = _err(tiles, "load", "F1", "C-2", "--batch", "lot B")
    assert f"C-2 is of version 1 of white, {TOLD}." in told


def test_a_bucket_with_tiles_of_both_or_of_no_known_version_says_nothing(two_buckets, tiles):
    assert tiles("change", "B-1", "--recipe-version", "1").code == 0
    assert "Check" not in _err(
        tiles, *LOG, "--mark", "C-1", "--recipe-version", "1", "--batch", "lot B"
    )
    assert "Check" not in _err(
        tiles, *LOG, "--mark", "C-2", "--recipe-version", "1", "--batch", "spare"
    )


def test_load_names_only_the_buckets_that_may_hold_the_version(two_buckets, tiles):
    for version in ("1", "2"):
        made = ("--mark", f"C-{version}", "--recipe-version", version)
        assert tiles(*LOG, *made).code == 0
    assert "name it with --batch: lot A, spare." in _err(tiles, "load", "F1", "C-1")
    assert "name it with --batch: lot B, spare." in _err(tiles, "load", "F1", "C-2")
    assert tiles("change", "C-1", "--recipe-version", "").code == 0
    assert "lot A, lot B, spare." in _err(tiles, "load", "F1", "C-1")


@pytest.mark.parametrize(
    ("options", "version"),
    [(("--batch", "lot A"), 1), (("--batch", "lot B"), 2), (("--batch", "spare"), 2), ((), 2),
     (("--batch", "lot A", "--recipe-version", "2"), 2)],
)  # fmt: skip
def test_a_forecast_from_a_bucket_is_of_what_is_in_it(two_buckets, tiles, options, version):
    ran = tiles("forecast", "--body", "buff", "--glaze", "white", "--defect", "crawling", *options)
    assert ran.code == 0, ran.err
    assert ("white v2" in ran.out) is (version == 2)
