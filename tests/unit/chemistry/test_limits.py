import pytest

from tiles.chemistry import limits
from tiles.chemistry._tables import DATA, read_table
from tiles.errors import UnknownCone, UnknownName

LOW_FIRE = {"Na2O": 0.3, "CaO": 0.7, "Al2O3": 0.2, "B2O3": 0.4, "SiO2": 2.0}


def test_each_author_is_reported_apart_and_never_merged():
    found = limits.against_published(LOW_FIRE, "5")
    silica = {(each.author, each.place) for each in found if each.quantity == "SiO2"}
    assert len({author for author, _ in silica}) >= 2


def test_remembered_ranges_are_flagged():
    found = limits.against_published(LOW_FIRE, "04")
    by_author = {each.author: each.status for each in found}
    assert by_author["D. Rhodes (1973)"] == "memory"
    assert by_author["H. McWhinnie (2000)"] == "read"


def test_lead_ranges_are_left_out_for_a_glaze_without_lead():
    titles = {each.range_title for each in limits.against_published(LOW_FIRE, "04")}
    assert not any("08-01, lead" in title for title in titles)
    leaded = LOW_FIRE | {"PbO": 0.8}
    titles = {each.range_title for each in limits.against_published(leaded, "04")}
    assert any("08-01, lead" in title for title in titles)


def test_alkalis_are_added_up_as_authors_do():
    found = limits.against_published({"K2O": 0.2, "Na2O": 0.3, "CaO": 0.5}, "04")
    value = next(each.value for each in found if each.quantity == "KNaO")
    assert value == pytest.approx(0.5)


def test_without_alumina_no_ratio_is_told():
    found = limits.against_published({"CaO": 1.0, "SiO2": 2.0}, "6")
    assert found
    assert not [each for each in found if each.quantity == "SiO2:Al2O3"]


def test_a_cone_no_author_covers_gives_nothing():
    assert limits.against_published(LOW_FIRE, "022") == []


def test_what_is_no_cone_or_oxide_is_refused():
    with pytest.raises(UnknownCone):
        limits.against_published(LOW_FIRE, "five")
    with pytest.raises(UnknownName):
        limits.against_published({"Xx2O": 1}, "5")


def test_places_are_below_within_and_above():
    for silica, place in ((1.0, "below"), (1.7, "within"), (2.5, "above")):
        found = limits.against_published({"CaO": 1.0, "SiO2": silica}, "04")
        mine = next(e for e in found if e.quantity == "SiO2" and e.author.startswith("H. McW"))
        assert mine.place == place


def test_every_row_has_a_range_and_an_explained_source():
    explained = (DATA / "SOURCES.md").read_text(encoding="utf-8")
    for row in read_table("limits"):
        assert row["low"] or row["high"]
        if row["low"] and row["high"]:
            assert float(row["low"]) < float(row["high"])
        assert f"## {row['source']}\n" in explained
