"""Whatever goes in comes out: through the database, and through JSON into another one."""

import json
from contextlib import suppress

from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from tests.property.record_strategies import cones, maybe, noted, studios, written
from tests.property.test_search import Undo, put_on_record
from tiles.exchange import flat_csv
from tiles.exchange.flat_cells import csv_text, read_cell, witness_text
from tiles.exchange.flat_columns import by_name
from tiles.exchange.json_file import Choices, import_records, to_json
from tiles.records import derived, forms, reading
from tiles.records.store import get_tile

QUIET = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.function_scoped_fixture]


def read_back(session, records):
    session.expire_all()
    return [reading.tile_record(get_tile(session, record.mark)) for record in records]


def without_what_the_store_adds(record):
    """A glaze's kind and role are filled in where they were not said."""
    values = record.model_dump(mode="json")
    for area in values["areas"]:
        for layer in area["layers"]:
            layer["glaze"] |= {"kind": None, "role": None}
    if values["firing"]:
        # Readings of a firing have no order of their own.
        values["firing"]["witness_cones"].sort(key=str)
    return values


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=QUIET)
@given(studios(max_tiles=4))
def test_a_stored_record_is_read_back_equal(database, records):
    with suppress(Undo), database.transaction() as session:
        put_on_record(session, records)
        came = read_back(session, records)
        for record, again in zip(records, came, strict=True):
            assert without_what_the_store_adds(again) == without_what_the_store_adds(record)
            assert derived.summary(again) == derived.summary(record)
        raise Undo


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=QUIET)
@given(studios(max_tiles=4))
def test_json_shown_by_one_database_is_shown_the_same_by_another(database, records):
    shown = []
    with suppress(Undo), database.transaction() as session:
        put_on_record(session, records)
        shown = [json.dumps(to_json(each)) for each in read_back(session, records)]
        raise Undo
    with suppress(Undo), database.transaction() as session:
        outcome = import_records(
            session, list(map(json.loads, shown)), "file", Choices(confirmed=True)
        )
        assert outcome.refused == []
        assert [json.dumps(to_json(each)) for each in read_back(session, records)] == shown
        raise Undo


@settings(max_examples=50, deadline=None, suppress_health_check=QUIET)
@given(studios(max_tiles=2))
def test_a_checked_record_passes_the_check_unchanged(records):
    for record in records:
        assert forms.read(forms.TileRecord, record.model_dump(mode="json")) == record


@settings(max_examples=30, deadline=None, derandomize=True, suppress_health_check=QUIET)
@given(
    studios(max_tiles=2),
    st.lists(maybe(noted | st.sampled_from([" 12 ", "other: x"]))),
    st.booleans(),
)
def test_a_sheet_read_again_is_exported_byte_for_byte_the_same(
    tmp_path, records, notes, semicolons
):
    """What is blank stays blank; the words about faults may come in any order."""
    faults = [seen for record in records for look in record.inspections for seen in look.defects]
    for seen, note in zip(faults, notes, strict=False):
        seen.note = note
    files = tmp_path / "one.csv", tmp_path / "two.csv"
    flat_csv.write_file(files[0], records, semicolons=semicolons)
    reading = flat_csv.read_file(files[0])
    assert reading.problems == []
    again = [record for _row, record in reading.tiles]
    flat_csv.write_file(files[1], again, semicolons=semicolons)
    assert files[1].read_bytes() == files[0].read_bytes()


shelves = maybe(written | st.integers(1, 12).map(str))


@given(st.lists(st.tuples(shelves, cones), min_size=1, max_size=3))
@example([("2", "05"), (None, "06")])
@example([(None, "05"), ("2", "6")])
def test_witness_cones_come_back_from_their_cell(pairs):
    read = [forms.WitnessCone(shelf=shelf, cone=cone) for shelf, cone in pairs]
    text, column = witness_text(read), by_name()["witness_cones"]
    assume(text is not None)  # a shelf whose name holds a sign that parts them: told as left out
    again = read_cell(column, csv_text(column, text))
    assert again == tuple((each.shelf, each.cone) for each in read)
