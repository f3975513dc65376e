"""The quick way of reading one tile gives what the full way gives, or leaves it to that."""

import sqlite3
from contextlib import closing

import pytest
from hypothesis import HealthCheck, given, settings
from sqlalchemy import select

from tests.property.record_strategies import BODIES, GLAZES, studios
from tests.property.test_search import put_on_record
from tiles.chemistry.materials import from_analysis
from tiles.records import forms, models, quick, reading
from tiles.records.database import open_database
from tiles.records.store.material import add_material
from tiles.settings import database_url

QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large]


def both_ways(file):
    url = database_url(str(file))
    with open_database(url).transaction() as session:
        marks = list(session.scalars(select(models.Tile.mark)))
        full = reading.find_records(session, marks)
    return [(record, quick.find_record(url, record.mark)) for record in full]


def test_every_tile_of_the_sample_is_read_alike_both_ways(sample):
    pairs = both_ways(sample)
    assert len(pairs) > 100
    for full, quickly in pairs:
        assert quickly is not None, full.mark
        # The texts of values too: a 1 for True or a text for a date would pass for equal.
        assert repr(quickly.model_dump()) == repr(full.model_dump())


def test_all_inspected_tiles_are_read_alike_both_ways_and_none_of_too_many(sample):
    url = database_url(str(sample))
    full = [each for each, _ in both_ways(sample) if each.inspections]
    quickly = quick.find_inspected(url, len(full))
    assert {each.mark: each for each in quickly} == {each.mark: each for each in full}
    assert quick.find_inspected(url, len(full) - 1) == []


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=QUIET)
@given(studios(max_tiles=4))
def test_any_stored_tile_is_read_alike_both_ways(tmp_path_factory, records):
    file = tmp_path_factory.mktemp("quick") / "tiles.db"
    opened = open_database(database_url(str(file)), create=True)
    with opened.transaction() as session:
        put_on_record(session, records)
    pairs = both_ways(file)
    assert len(pairs) == len(records)
    for full, quickly in pairs:
        assert repr(quickly.model_dump()) == repr(full.model_dump())


def test_own_analyses_are_read_alike_both_ways(sample):
    sheets = [
        ("flint", {"SiO2": 98.0, "Fe2O3": 1.5}, 0.5),
        ("pit clay", {"SiO2": 60.0, "Al2O3": 30.0}, 10.0),
    ]
    with open_database(database_url(str(sample))).transaction() as session:
        for name, analysis, loss in sheets:
            add_material(session, from_analysis(name, analysis, loss_on_ignition_percent=loss))
    pairs = both_ways(sample)
    assert [quickly for _, quickly in pairs] == [full for full, _ in pairs]
    with_recipe = [layer.recipe for _, record in pairs for area in record.areas
                   for layer in area.layers if layer.recipe]  # fmt: skip
    assert with_recipe
    for recipe in with_recipe:
        assert [(each.name, each.clay) for each in recipe.own] == [
            ("flint", ""),
            ("pit clay", "raw"),
        ]
        assert "quartz" in recipe.own[0].aliases


def test_capitals_and_spaces_of_a_mark_do_not_matter(sample):
    assert quick.find_record(database_url(str(sample)), "  m-41 ").mark == "M-41"


@pytest.mark.parametrize("place", ["nowhere.db", "sqlite://", "postgresql://localhost/none"])
def test_what_is_no_sqlite_file_is_left_to_the_full_way(tmp_path, place):
    place = str(tmp_path / place) if "://" not in place else place
    assert quick.find_record(database_url(place), "M-41") is None


def test_an_unknown_mark_another_revision_and_a_foreign_file_are_left_to_the_full_way(sample):
    url = database_url(str(sample))
    assert quick.find_record(url, "M-4100") is None
    assert quick.find_others(url, "M-4100") is None
    with closing(sqlite3.connect(sample)) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    assert quick.find_record(url, "M-41") is None
    assert quick.find_others(url, "M-41") is None
    sample.write_bytes(b"no database at all")
    assert quick.find_record(url, "M-41") is None


def test_reading_quickly_leaves_the_file_as_it_was(sample, tiles):
    before = sample.read_bytes()
    ran = tiles("why", "M-41")
    assert ran.code == 0
    assert sample.read_bytes() == before
    assert list(sample.parent.glob("sample.db-*")) == []


def test_tiles_that_share_a_glaze_or_the_firing_are_found_alike_both_ways(sample):
    from tiles.queries.search import Search, run

    url = database_url(str(sample))
    found = quick.find_others(url, "m-41")
    with open_database(url).transaction() as session:
        sharing = run(session, Search(glazes=("pond green",), is_inspected=True))
        firing = reading.find_records(session, ["M-41"])[0].firing.name
        firings = {each.firing for each in sharing if each.firing}
        loads = {
            name: {each.mark for each in run(session, Search(firing=name, is_inspected=True))}
            for name in firings | {firing}
        }
        of_glaze = {each.mark for each in sharing} - {"M-41"}
        marks = of_glaze.union(*loads.values()) - {"M-41"}
        assert len(marks) > len(of_glaze | loads[firing])
        assert {each.mark for each in found} == marks
        order = [(each.mark not in of_glaze, each.mark not in loads[firing]) for each in found]
        assert order[: len(of_glaze)] == [each for each in order if not each[0]]
        assert order[len(of_glaze) :] == sorted(order[len(of_glaze) :])
        record = reading.find_records(session, ["M-41"])[0]
        full = reading.sharing_marks(session, record, quick.MOST_OTHERS)
        assert full == [each.mark for each in found]
        assert sorted(r.mark for r in reading.find_records(session, sorted(marks))) == sorted(marks)
    assert quick.find_others("postgresql://localhost/none", "M-41") is None


def put_tiles(database, *marks):
    """Sound tiles, the last two of one glaze and the others of another."""
    glazes = [*[GLAZES[0]] * (len(marks) - 2), *[GLAZES[1]] * 2]
    records = [
        forms.TileRecord.model_validate(
            {
                "mark": mark,
                "body": {"name": BODIES[0]},
                "areas": [{"number": 1, "layers": [{"glaze": {"name": glaze}}]}],
                "inspections": [{"inspected_on": "2026-03-01"}],
            }
        )
        for mark, glaze in zip(marks, glazes, strict=True)
    ]
    with database.transaction() as session:
        put_on_record(session, records)


@pytest.mark.parametrize(("defect", "are_found"), [("crazing", True), ("pinholes", False)])
def test_of_a_fault_of_fit_the_tiles_of_its_body_are_found_alike_both_ways(
    tmp_path, defect, are_found
):
    file = tmp_path / "tiles.db"
    database = open_database(database_url(str(file)), create=True)
    put_tiles(database, "A-1", "A-2", "B-3", "B-4")
    with database.transaction() as session:
        look = session.scalars(select(models.Inspection)).first()
        look.defects = [models.Defect(defect=defect)]
    quickly = [each.mark for each in quick.find_others(database_url(str(file)), "A-1")]
    assert quickly == ["A-2", *(["B-4", "B-3"] if are_found else [])]
    with database.transaction() as session:
        record = reading.find_records(session, ["A-1"])[0]
        assert reading.sharing_marks(session, record, quick.MOST_OTHERS) == quickly


def test_a_mark_with_a_capital_beyond_z_is_found_quickly_with_its_glaze(tmp_path):
    file = tmp_path / "tiles.db"
    put_tiles(open_database(database_url(str(file)), create=True), "A-1", "Ö-2", "Ä-3", "B-4")
    url = database_url(str(file))
    assert quick.find_record(url, "ö-2").mark == "Ö-2"
    found = {mark: [each.mark for each in quick.find_others(url, mark)] for mark in ("Ö-2", "Ä-3")}
    assert found == {"Ö-2": ["A-1"], "Ä-3": ["B-4"]}


@pytest.mark.parametrize(
    ("of", "remark", "found"),
    [
        ("T_1", None, ["B-3", "T%1", "A-1"]),
        ("T_1", "trial for T_1: 1/3 of the way to A", ["B-3", "B-4", "T%1", "A-1"]),
        ("A-1", None, ["B-3", "T%1", "A-1"]),
        ("A-9", "trial for A-9: 1/3 of the way to A", ["T%1", "A-1"]),
    ],
)
def test_trials_for_a_tile_or_one_of_its_glaze_are_found_alike_both_ways_whatever_theirs(
    tmp_path, of, remark, found
):
    file = tmp_path / "tiles.db"
    database = open_database(database_url(str(file)), create=True)
    put_tiles(database, "A-1", "T_1", "T%1", "B-3", "B-4")
    with database.transaction() as session:
        for mark, parent in (("B-3", of), ("B-4", "TX1")):
            tile = session.scalars(select(models.Tile).where(models.Tile.mark == mark)).one()
            tile.trial_of = parent
        glaze = session.scalars(select(models.Glaze).where(models.Glaze.name == GLAZES[1])).one()
        glaze.remark = remark
    quickly = [each.mark for each in quick.find_others(database_url(str(file)), "T_1")]
    with database.transaction() as session:
        record = reading.find_records(session, ["T_1"])[0]
        assert reading.sharing_marks(session, record, quick.MOST_OTHERS) == quickly
        assert reading.sharing_marks(session, record, 1) == quickly[:1]
    assert quickly == found  # its own trial first, so that no number of tiles hides it
