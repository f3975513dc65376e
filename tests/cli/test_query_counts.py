"""A list asks the database as often for many rows as for few."""

from contextlib import contextmanager

import pytest
from sqlalchemy import Engine, event

from tiles.exchange.json_file import Choices, import_records


@contextmanager
def counted():
    """The statements that are sent meanwhile."""
    sent: list[str] = []

    def note(_connection, _cursor, statement, *_more):
        sent.append(statement)

    event.listen(Engine, "before_cursor_execute", note)
    try:
        yield sent
    finally:
        event.remove(Engine, "before_cursor_execute", note)


def add_one_of_each(tiles, number):
    for words in (
        ("kiln", "add", f"kiln {number}"),
        ("firing", "add", f"W{number}", "--kiln", f"kiln {number}", "--witness-cone", "05@top"),
        ("body", "add", f"body {number}"),
        ("recipe", "add", f"glaze {number}", "--line", f"own {number}=60", "--line", "silica=40"),
    ):
        assert tiles(*words, *["--yes"] * (words[0] == "recipe")).code == 0


LISTS = [
    ("firing", "list"),
    ("glaze", "list"),
    ("body", "list"),
    ("recipe", "list"),
    ("batch", "list"),
]
OVER_TILES = [
    ("compare", "--glaze", "pond green", "--by", "coats"),
    ("why", "--glaze", "pond green", "--defect", "crawling"),
]


@pytest.mark.parametrize("command", [*LISTS, ("next", "M-60")], ids=" ".join)
def test_a_list_asks_as_often_for_many_as_for_few(sample, tiles, command):
    sizes = []
    for number in range(2):
        add_one_of_each(tiles, number)
        with counted() as sent:
            assert tiles(*command).code == 0
        sizes.append(len(sent))
    assert sizes[0] == sizes[1]


def test_a_kiln_with_many_firings_is_shown_with_as_few_queries(sample, tiles):
    sizes = []
    for number in range(2):
        add_one_of_each(tiles, number)
        with counted() as sent:
            assert tiles("kiln", "show", "kiln 0").code == 0
        sizes.append(len(sent))
    assert sizes[0] == sizes[1]


def test_clean_tiles_of_many_glazes_are_found_with_as_few_queries(fresh, tiles):
    sizes = []
    for number in range(1, 4):
        made = ("--body", "red", "--glaze", f"glaze {number}", "--add-missing", "--firing", "F1")
        for mark, look in {
            f"A-{number}": ("2025-06-01", "--defect", "crazing"),
            f"B-{number}": ("2025-01-02", "--clean"),
        }.items():
            ran = tiles("log", "--mark", mark, *made, "--inspected-on", *look)
            assert ran.code == 0, ran.err
        if number == 1:
            assert tiles("firing", "change", "F1", "--fired-on", "2025-01-01").code == 0
        with counted() as sent:
            assert tiles("find", "--clean").err.count("Look again") == number
            assert tiles("palette").out.count("Look again") == number
        sizes.append(len(sent))
    assert sizes[0] == sizes[1] == sizes[2]


@pytest.mark.parametrize("command", OVER_TILES, ids=" ".join)
def test_many_tiles_are_not_asked_for_by_their_marks(sample, tiles, command):
    """SQLite takes only so many of them in one statement."""
    with counted() as sent:
        assert tiles(*command).code == 0
    assert sent
    assert not any("tile.mark IN" in statement for statement in sent)


@pytest.mark.parametrize("command", [["change", "--note", "second shelf"], ["load", "F26"]])
def test_each_further_tile_of_a_run_takes_few_queries(sample, tiles, command):
    for number in range(60):
        made = ("--mark", f"N-{number}", "--body", "red earthenware", "--glaze", "pond green=2")
        assert tiles("log", *made).code == 0
    sizes = []
    for run in ("N-1..N-9", "N-10..N-50"):
        with counted() as sent:
            name, *options = command
            ran = tiles(name, *(options + [run] if name == "load" else [run] + options))
        assert ran.code == 0, ran.err
        sizes.append(len(sent))
    assert sizes[1] - sizes[0] <= 4 * (41 - 9)


def test_each_further_tile_of_an_import_takes_few_queries(sqlite_database):
    """Whoever else writes waits until the last of them is stored."""
    areas = [{"number": 1, "layers": [{"glaze": "pond green", "coats": 2}]}]
    made = {"body": "red", "areas": areas, "firing": {"name": "F1", "kiln": "big"}}
    made |= {"bisque_firing": "B1", "inspections": [{"inspected_on": "2026-03-02"}]}
    more = {"new": Choices(), "again": Choices(), "over": Choices(replace=True)}
    sizes: dict[str, list[int]] = {each: [] for each in more}
    for first, count in (("A", 5), ("B", 25)):
        values = [made | {"mark": f"{first}-{number}"} for number in range(count)]
        for what, how in more.items():
            with sqlite_database.transaction() as session, counted() as sent:
                done = import_records(session, values, "tiles.json", how)
                assert not done.refused, done.refused
            sizes[what].append(len(sent))
    new, again, over = ((many - few) / 20 for few, many in sizes.values())
    assert new <= 7 and again <= 1 and over <= 9, sizes
