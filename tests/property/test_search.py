"""Search by SQL and the same search in memory must give the same areas, for every option."""

from collections import Counter
from contextlib import suppress
from dataclasses import fields
from datetime import timedelta

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from tests.property.record_strategies import (
    BATCHES,
    BISQUES,
    BODIES,
    FIRED,
    FIRINGS,
    GLAZES,
    KILNS,
    MADE,
    after_the_firing,
    clues_about,
    cones,
    maybe,
    studios,
)
from tests.property.search_twin import matching, unread
from tiles.chemistry.cones import step
from tiles.queries.blank import BLANK
from tiles.queries.search import Search, records_of, run
from tiles.queries.unread import tiles_unread
from tiles.records import derived, forms, store, words
from tiles.records.store.named import Names

ASKED = [each for about in ("tile", "area") for each in clues_about(about)[:2]]
days = st.sampled_from([MADE, FIRED, FIRED + timedelta(days=1)]) | after_the_firing
OPTIONS = {
    "mark": st.sampled_from(["?-1", "m-?", "*2", "M?3"]),
    "body": st.sampled_from([*BODIES, BODIES[0].upper()]),
    "glazes": st.lists(st.sampled_from(GLAZES), min_size=1, max_size=2).map(tuple),
    "cone_from": cones,
    "cone_to": cones,
    "firing": st.sampled_from([*FIRINGS, BISQUES[0]]),
    "bisque_firing": st.sampled_from(BISQUES),
    "bisque_cone_from": cones,
    "bisque_cone_to": cones,
    "batch": st.sampled_from([*BATCHES, BATCHES[0].upper()]),
    "kiln": st.sampled_from(KILNS),
    "coats": st.integers(1, 3),
    "thickness_from_mm": st.sampled_from([0.3, 0.6, 0.7, 0.9]),
    "thickness_to_mm": st.sampled_from([0.3, 0.6, 0.9, 1.2]),
    "defect": st.sampled_from(words.DEFECTS[:4]),
    "is_clean": st.booleans(),
    "is_inspected": st.booleans(),
    "since": days,
    "until": days,
    "clues": st.sampled_from([*ASKED]).flatmap(
        lambda name: st.sampled_from(["yes", "no"]).map(lambda answer: ((name, answer),))
    ),
    "blank": st.sampled_from(list(BLANK)),
    "note": st.sampled_from(["7c", "\u00e4rmel kurs", "STOCK", "old stock"]),
}


def searches(name):
    """Searches by one option, half of the time alone, else by one or two others as well.

    Alone it finds something in most studios: with others that is too rare to be seen each time.
    """
    more = st.sampled_from(sorted(OPTIONS.keys() - {name}))
    others = st.just([]) | st.lists(more, min_size=1, max_size=2, unique=True)
    return others.flatmap(
        lambda more: st.fixed_dictionaries({each: OPTIONS[each] for each in (name, *more)})
    ).map(_cooler_end_first)


def _cooler_end_first(given):
    """A range the other way round is refused, and has a test of its own."""
    for names in (("cone_from", "cone_to"), ("bisque_cone_from", "bisque_cone_to")):
        if given.keys() >= set(names):
            ends = sorted((given[each] for each in names), key=step)
            given = given | dict(zip(names, ends, strict=True))
    return Search(**given)


one_of_each = st.fixed_dictionaries({name: searches(name) for name in OPTIONS})


class Undo(Exception):
    """Ends a transaction without keeping anything."""


def put_on_record(session, records):
    for name in BODIES:
        store.add_body(session, forms.BodyRecord(name=name))
    for name in GLAZES:
        store.add_glaze(session, forms.GlazeRecord(name=name))
        for batch in BATCHES:
            store.add_batch(session, name, forms.BatchRecord(name=batch))
    for name in KILNS:
        store.add_kiln(session, name)
    for name in FIRINGS:
        full = [each.firing for each in records if each.firing and each.firing.name == name]
        store.add_firing(session, full[0] if full else forms.FiringRecord(name=name))
    for name in BISQUES:
        bisques = [each.bisque_firing for each in records if each.bisque_firing]
        full = [each for each in bisques if each.name == name]
        plain = forms.FiringRecord(name=name, kind="bisque")
        store.add_firing(session, full[0] if full else plain)
    for record in records:
        store.add_tile(session, record, names=Names(session), confirmed=True)


def test_the_searches_try_every_option():
    assert set(OPTIONS) == {field.name for field in fields(Search)}


def test_search_by_sql_is_search_in_memory(database):
    told: Counter = Counter()
    is_sqlite = database.engine.dialect.name == "sqlite"

    def agree(asked, examples):
        @settings(
            max_examples=examples,
            deadline=None,
            derandomize=True,
            # Shrinking a whole studio takes minutes and leaves it no easier to read.
            phases=[Phase.explicit, Phase.generate],
            suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
        )
        @given(studios(), asked)
        def on_studios(records, asked):
            with suppress(Undo), database.transaction() as session:
                put_on_record(session, records)
                for number, (name, search) in enumerate(asked.items()):
                    is_whole = number % 4 == len(records) % 4
                    found = check_search(session, records, search, is_whole=is_whole)
                    told[name, "some"] += bool(found)
                    told[name, "not all"] += len(found) < sum(len(each.areas) for each in records)
                raise Undo

        on_studios()

    agree(one_of_each, 33 if is_sqlite else 8)
    if is_sqlite:  # the few examples on the other back end are too few for what follows
        # Each option both found something and left something out, so that a deaf one would be
        # seen; which are drawn hangs on what else is loaded, so those unlucky are asked by
        # themselves.
        if unlucky := _untold(told):
            agree(st.fixed_dictionaries({name: alone(name) for name in unlucky}), 33)
        assert not _untold(told), told


def _untold(told):
    return [name for name in OPTIONS if not (told[name, "some"] and told[name, "not all"])]


def alone(name):
    return OPTIONS[name].map(lambda value: _cooler_end_first({name: value}))


def check_search(session, records, search, *, is_whole):
    """What one search finds, and what the rows of it and the whole tiles tell."""
    found = run(session, search)
    assert {(each.mark, each.area) for each in found} == matching(records, search)
    assert len(found) == len({(each.mark, each.area) for each in found})
    # Reading whole tiles takes as long as all else: some searches of every studio.
    if is_whole:
        whole = [record.mark for record in records_of(session, search)]
        assert whole == list(dict.fromkeys(each.mark for each in found))
    assert {each.mark for each in tiles_unread(session, search)} == unread(records, search)
    check_rows(found, records)
    return found


def check_rows(found, records):
    """What a row tells is what follows from the record."""
    by_mark = {record.mark: record for record in records}
    for each in found:
        record = by_mark[each.mark]
        (area,) = (area for area in record.areas if area.number == each.area)
        reached = derived.cone_reached(record)
        assert each.clean is derived.is_clean(record, area)
        assert each.cone_reached == (reached.cone if reached else None)
        assert each.body == record.body.name
        assert each.firing == (record.firing.name if record.firing else None)
        assert each.glazes == [layer.glaze.name for layer in area.layers]
        assert each.coats == [layer.coats for layer in area.layers]
        assert each.thickness_mm == [layer.thickness_mm for layer in area.layers]
        assert set(each.severity) == {seen.defect for seen in derived.defects_on(record, area)}
        told = filter(None, map(derived.own_words, derived.defects_on(record, area)))
        assert sorted(each.other_words) == sorted(set(told))
        assert each.areas_on_tile == len(record.areas)
        assert each.day == derived.day_of(record)


@settings(max_examples=20, deadline=None)
@given(st.lists(cones, min_size=2, max_size=2), maybe(cones))
def test_a_cone_range_holds_both_its_ends_and_nothing_beyond(ends, other):
    from tiles.chemistry.cones import cones_between

    low, high = sorted(ends, key=step)
    between = cones_between(low, high)
    assert low in between
    assert high in between
    if other is not None:
        assert (other in between) == (step(low) <= step(other) <= step(high))


def test_a_range_from_the_hotter_end_is_refused(database):
    from tiles.errors import InvalidValue

    with pytest.raises(InvalidValue, match="backwards"), database.transaction() as session:
        run(session, Search(cone_from="04", cone_to="06"))


@pytest.mark.parametrize("part", ["body", "glazes", "firing", "bisque_firing", "kiln", "batch"])
def test_search_refuses_a_name_that_is_not_on_record(database, part):
    from tiles.errors import UnknownName

    value = ("no such",) if part == "glazes" else "no such"
    with pytest.raises(UnknownName, match="'no such'"), database.transaction() as session:
        run(session, Search(**{part: value}))
