"""What is doubtful of tiles on record: of each kind one that is, and one that is not."""

import pytest

from tiles.cli.doubts import doubts
from tiles.errors import shell_line
from tiles.queries.search import Search, records_of
from tiles.records import forms, store
from tiles.records.store.named import Names

G1 = {"name": "G1", "kiln": "class kiln", "target_cone": "05", "fired_on": "2026-09-14"}
G2 = G1 | {"name": "G2", "fired_on": "2026-09-28"}
POND = {"name": "pond green", "cone_low": "06", "cone_high": "04"}


def tile(mark, glaze="pond green", firing=G1, **values):
    area = {"number": 1, "layers": [{"glaze": glaze, "coats": 2} | values.pop("layer", {})]}
    plain = {"mark": mark, "body": "red clay", "areas": [area], "firing": firing}
    return plain | values


def told(database, *tiles, search=None):
    """Marks, what is said and the command, of each doubt about these tiles."""
    with database.transaction() as session:
        names = Names(session, add_missing=True)
        for each in tiles:
            record = forms.read(forms.TileRecord, each)
            store.add_tile(session, record, names=names, confirmed=True)
    with database.transaction(looking=True) as session:
        records = records_of(session, search or Search())
        return [(each.marks, each.said, each.mend) for each in doubts(session, records)]


def test_usual_tiles_are_not_doubtful(sqlite_database):
    usual = [tile("T-01", shelf="top"), tile("T-02", shelf="top", cone_reached="05")]
    assert told(sqlite_database, *usual) == []


@pytest.mark.parametrize(
    ("slip", "known", "mend"),
    [
        ("T-O1", "T-01", "tiles remove T-O1"),
        ("T-O3", "T-02", "tiles change T-O3 --mark T-03"),
        ("T 01", "T-01", 'tiles remove "T 01"'),
        ("T-0031", "T-030", "tiles change T-0031 --mark T-031"),
    ],
)
def test_a_mark_that_looks_like_another(sqlite_database, slip, known, mend):
    assert told(sqlite_database, tile(known)) == []
    ((marks, said, command),) = told(sqlite_database, tile(slip, firing=G2))
    assert (marks, command) == ([slip], mend)
    assert repr(slip) in said


def test_of_two_marks_for_one_tile_the_one_with_the_letter_is_told_whichever_came_first(
    sqlite_database,
):
    found = told(sqlite_database, tile("T-O1"), tile("T-01", firing=G2), tile("T-02"))
    assert found == [
        (["T-O1"], "'T-01' is on record: is 'T-O1' the same tile?", "tiles remove T-O1")
    ]


@pytest.mark.parametrize("marks", [["T-01", "T-001"], ["T-001", "T-01"]])
def test_of_two_marks_of_one_day_the_one_stored_last_is_told(sqlite_database, marks):
    ((doubted, _said, mend),) = told(sqlite_database, *map(tile, marks))
    assert (doubted, mend) == (marks[1:], f"tiles remove {marks[1]}")


def test_a_mark_that_is_another_but_for_a_letter_is_one_doubt_though_it_has_neighbours(
    sqlite_database,
):
    assert told(sqlite_database, tile("T-59"), tile("T-60")) == []
    ((marks, _said, mend),) = told(sqlite_database, tile("T-6O", firing=G2))
    assert (marks, mend) == (["T-6O"], "tiles remove T-6O")


@pytest.mark.parametrize("slip", ["pond gren", "green pond", "green"])
def test_a_glaze_much_like_another_is_told_on_the_tiles_that_have_it(sqlite_database, slip):
    tiles = [tile("T-01"), tile("T-02"), tile("T-03", "sky blue"), tile("T-04", slip)]
    ((marks, said, mend),) = told(sqlite_database, *tiles)
    assert (marks, mend) == (["T-04"], shell_line(["tiles", "glaze", "merge", slip, "pond green"]))
    assert repr(slip) in said
    assert told(sqlite_database, search=Search(glazes=("pond green",))) == []


def test_a_shelf_much_like_another_and_one_that_reads_as_a_fault(sqlite_database):
    tops = [tile("T-01", shelf="top"), tile("T-02", shelf="top"), tile("T-03", shelf="middle")]
    slips = [tile("T-04", shelf="topp"), tile("T-05", shelf="crawling bad")]
    slips += [tile("T-06", shelf="class kiln"), tile("T-07", shelf="g1")]
    found = {marks[0]: mend for marks, _said, mend in told(sqlite_database, *tops, *slips)}
    assert found == {
        "T-04": "tiles change T-04 --shelf top",
        **{f"T-0{n}": f"tiles change T-0{n} --shelf NAME" for n in (5, 6, 7)},
    }
    # The common spelling is no slip of the rare one, also where only its tiles are asked for.
    assert told(sqlite_database, search=Search(note="T-01")) == []


@pytest.mark.parametrize(("far", "of_firing"), [(3, True), (2, False)])
def test_where_most_of_several_tiles_are_far_outside_their_labels_the_firing_is_doubted(
    sqlite_database, far, of_firing
):
    hot = G1 | {"target_cone": "5"}
    low = [tile(f"T-{at}", firing=hot, layer={"glaze": POND}) for at in range(far)]
    mid = {"glaze": {"name": "mid blue", "cone_low": "4", "cone_high": "6"}}
    found = told(sqlite_database, *low, tile("T-9", firing=hot, layer=mid))
    assert any("firing change G1 --target-cone 05" in mend for *_, mend in found) is of_firing


def test_of_two_shelves_alike_with_as_many_tiles_one_is_doubted(sqlite_database):
    ((_marks, said, _mend),) = told(
        sqlite_database, tile("T-01", shelf="top"), tile("T-04", shelf="topp")
    )
    assert "'top'" in said and "'topp'" in said


def test_a_shelf_without_a_witness_cone_is_one_beside_a_shelf_that_has_it(sqlite_database):
    read = G1 | {"witness_cones": [{"shelf": "top", "cone": "05"}]}
    tiles = [tile("T-01", shelf="topp", firing=read), tile("T-02", shelf="floor", firing=read)]
    ((marks, _said, mend),) = told(sqlite_database, *tiles)
    assert (marks, mend) == (["T-01"], "tiles change T-01 --shelf top")


@pytest.mark.parametrize(("own", "is_told"), [("04", False), ("03", True), ("05", False)])
def test_a_reading_far_from_its_shelfs_witness(sqlite_database, own, is_told):
    read = G1 | {"witness_cones": [{"shelf": "top", "cone": "05"}]}
    found = told(sqlite_database, tile("T-01", shelf="Top", cone_reached=own, firing=read))
    assert [(marks, mend) for marks, _said, mend in found] == [
        (["T-01"], 'tiles change T-01 --cone-reached ""')
    ] * is_told


def test_a_reading_far_from_what_its_firing_was_set_for_is_one_doubt(sqlite_database):
    ((marks, _said, mend),) = told(sqlite_database, tile("T-01", cone_reached="5"))
    assert (marks, mend) == (["T-01"], "tiles change T-01 --cone-reached 05")


def test_a_bisque_cone_beside_that_of_its_bisque(sqlite_database):
    bisque = {"name": "B1", "kind": "bisque", "witness_cones": [{"cone": "04"}]}
    tiles = [tile(f"T-0{n}", bisque_firing=bisque, bisque_cone=f"0{n}") for n in (4, 8)]
    ((marks, _said, mend),) = told(sqlite_database, *tiles)
    assert (marks, mend) == (["T-08"], 'tiles change T-08 --bisque-cone ""')


def test_words_that_mean_a_fault_of_the_list(sqlite_database):
    looks = [{"inspected_on": "2026-09-18", "defects": [{"defect": "other", "note": note}]}
             for note in ("milky", "chipped on the way out")]  # fmt: skip
    tiles = [tile(f"T-0{n}", inspections=[look]) for n, look in enumerate(looks)]
    beside = [looks[0], {"inspected_on": "2026-09-18", "defects": [{"defect": "cloudiness"}]}]
    tiles.append(tile("T-02", inspections=beside))
    ((marks, _said, mend),) = told(sqlite_database, *tiles)
    assert marks == ["T-00", "T-02"]
    assert mend == "tiles change T-00 T-02 --other-is milky=cloudiness"


def test_a_firing_far_outside_the_labels_of_most_of_its_tiles_is_one_doubt(sqlite_database):
    sky = {"name": "sky blue", "cone_low": "06", "cone_high": "03"}
    hot = G1 | {"target_cone": "5"}
    tiles = [tile("T-01", POND, hot), tile("T-02", sky, hot), tile("T-03", "plum", hot)]
    ((marks, said, mend),) = told(sqlite_database, *tiles)
    assert (marks, mend) == (["T-01", "T-02"], "tiles firing change G1 --target-cone 05")
    assert said.startswith("target cone 5 (about 1186 C / 2167 F) is far above cone 0")


@pytest.mark.parametrize(
    ("target", "read", "mend"), [("05", "5", "--witness-cone 05"), ("5", "05", "--target-cone 05")]
)
def test_of_a_witness_cone_and_a_target_far_apart_the_labels_tell_which(
    sqlite_database, target, read, mend
):
    firing = G1 | {"target_cone": target, "witness_cones": [{"cone": read}]}
    ((marks, said, command),) = told(sqlite_database, tile("T-01", POND, firing))
    assert (marks, command) == (["T-01"], f"tiles firing change G1 {mend}")
    assert said.startswith(f"G1: witness cone {read} ")


def test_one_tile_of_a_load_far_outside_its_label_was_perhaps_in_another(sqlite_database):
    grey = {"name": "storm grey", "cone_low": "5", "cone_high": "6"}
    tiles = [tile("T-01", POND), tile("T-02", POND), tile("T-03", grey)]
    ((marks, _said, mend),) = told(sqlite_database, *tiles)
    assert (marks, mend) == (["T-03"], "tiles change T-03 --firing NAME")
    # In several loads it is the label, of whatever share of them.
    more = [tile(f"U-0{n}", grey, G2) for n in (1, 2, 3)]
    ((marks, _said, mend),) = told(sqlite_database, *more)
    assert (marks, mend) == (
        ["U-01", "U-02", "U-03", "T-03"], 'tiles glaze change "storm grey" --cones LOW-HIGH',
    )  # fmt: skip


@pytest.mark.parametrize("firings", [(G1, G2), (G1, G1)])
def test_of_a_label_that_underfired_tiles_bear_out_it_is_told_to_keep_it_out_of_such_loads(
    sqlite_database, firings
):
    grey = {"name": "storm grey", "cone_low": "5", "cone_high": "6"}
    seen = [{"inspected_on": "2026-10-18", "defects": [{"defect": "underfired"}]}]
    ponds = [tile(f"T-0{n}", POND, firing) for n, firing in enumerate((G1, G1, G1, G2, G2, G2))]
    cool = [tile(f"U-0{n}", grey, each, inspections=seen) for n, each in enumerate(firings)]
    untold = tile("U-09", grey, G2)
    ((marks, said, mend),) = told(sqlite_database, *ponds, *cool, untold)
    assert (sorted(marks), mend) == (
        ["U-00", "U-01", "U-09"], 'tiles glaze retire "storm grey"',
    )  # fmt: skip
    assert said == (
        "glaze 'storm grey' is for cone 5 to 6 and was fired at cone 05: 2 of 2 looked at "
        "are underfired, as the label says. Keep it out of such loads."
    )
    sound = [
        tile(f"U-0{n}", grey, G2, inspections=[{"inspected_on": "2026-10-18"}]) for n in (3, 4)
    ]
    ((marks, said, mend),) = told(sqlite_database, *sound)
    assert mend == 'tiles glaze change "storm grey" --cones LOW-HIGH'
    assert said.startswith(f"{marks[0]}: ") and said.endswith("4 more tiles, of other firings too.")


def test_a_retired_glaze_that_its_label_keeps_out_of_such_loads_is_not_told(sqlite_database):
    grey = {"name": "storm grey", "cone_low": "5", "cone_high": "6", "is_retired": True}
    seen = [{"inspected_on": "2026-10-18", "defects": [{"defect": "underfired"}]}]
    assert told(sqlite_database, tile("U-01", grey, inspections=seen), tile("T-01", POND)) == []


def test_each_command_mends_what_is_doubtful_of_all_its_tiles(sqlite_database):
    """A bisque cone and a cone reached are as far above one label, and two mistakes."""
    clay = {"name": "white clay", "cone_low": "06", "cone_high": "02"}
    ponds = [tile(f"T-0{n}", POND) for n in range(4)]
    hot = [tile("U-01", body=clay, cone_reached="6"), tile("U-02", body=clay, bisque_cone="4")]
    found = {mend: marks for marks, _said, mend in told(sqlite_database, *ponds, *hot)}
    assert found == {
        "tiles change U-01 --cone-reached 06": ["U-01"],
        "tiles change U-02 --bisque-cone 04": ["U-02"],
    }


def test_a_cone_that_its_shelfs_witness_gainsays_is_one_doubt_whatever_the_labels(sqlite_database):
    read = G1 | {"witness_cones": [{"cone": "05"}]}
    tiles = [tile("T-01", POND, read), tile("T-02", POND, read, cone_reached="6")]
    ((marks, said, mend),) = told(sqlite_database, *tiles)
    assert (marks, mend) == (["T-02"], 'tiles change T-02 --cone-reached ""')
    assert said == "cone reached 6, but in G1 the witness cone of the whole load is 05."


def test_a_firing_set_far_hotter_than_its_kilns_others(sqlite_database):
    fired = [tile(f"T-0{n}", firing=G1 | {"name": f"G{n}"}) for n in range(1, 5)]
    hot = tile("T-05", firing=G1 | {"name": "G5", "target_cone": "5"})
    ((marks, said, mend),) = told(sqlite_database, *fired, hot)
    assert (marks, mend) == (["T-05"], "tiles firing change G5 --target-cone 05")
    assert said.startswith("G5: target cone 5")
    # Gone to as hot once more, such a kiln is for both.
    assert told(sqlite_database, tile("T-06", firing=G1 | {"name": "G6", "target_cone": "6"})) == []


def test_what_was_asked_of_a_tile_by_itself(sqlite_database):
    looks = [{"inspected_on": "2026-09-18", "defects": [{"defect": "crazing"}]},
             {"inspected_on": "2026-10-18"}]  # fmt: skip
    odd = [tile("T-01", layer={"thickness_mm": 8}), tile("T-02", inspections=looks)]
    bare = tile("T-03", areas=[], inspections=looks[:1])
    fine = tile("T-04", layer={"thickness_mm": 0.8}, inspections=looks[:1])
    found = {marks[0]: mend for marks, _said, mend in told(sqlite_database, *odd, bare, fine)}
    assert found == {
        "T-01": "tiles change T-01 --thickness-mm MM",
        "T-02": "tiles change T-02 --forget-inspection 2026-09-18",
        "T-03": "tiles change T-03 --glaze NAME=COATS",
    }


def test_the_newest_come_first_and_those_without_a_day_last(sqlite_database):
    thick = {"thickness_mm": 8}
    days = {"T-01": "2026-09-14", "T-02": "2026-11-01", "T-03": None}
    tiles = [
        tile(mark, layer=thick, firing=G1 | {"name": f"G{mark}", "fired_on": day})
        for mark, day in days.items()
    ]
    assert [marks for marks, *_ in told(sqlite_database, *tiles)] == [["T-02"], ["T-01"], ["T-03"]]


KILN_DAY = G1 | {"name": "12 March", "fired_on": "2026-03-12", "witness_cones": [{"cone": "05"}]}


@pytest.mark.parametrize(
    ("other", "is_told"),
    [
        ({"name": "F31"}, True),
        ({"name": "F31", "target_cone": None, "witness_cones": [{"cone": "04", "shelf": "top"}]},
         True),
        ({"name": "F31", "target_cone": "04", "witness_cones": []}, False),
        ({"name": "F31", "witness_cones": [{"cone": "04"}]}, False),
        ({"name": "F31", "fired_on": "2026-03-13"}, False),
        ({"name": "F31", "fired_on": None}, False),
        ({"name": "F31", "kiln": "test kiln"}, False),
        ({"name": "F31", "kiln": None}, False),
        ({"name": "12 March b"}, True),
    ],
)  # fmt: skip
def test_two_firings_of_one_kiln_and_day_are_one_unless_they_tell_different_things(
    sqlite_database, other, is_told
):
    tiles = [tile("T-01", firing=KILN_DAY), tile("T-03", firing=KILN_DAY)]
    found = told(sqlite_database, *tiles, tile("T-02", firing=KILN_DAY | other))
    assert bool(found) is is_told
    if is_told:
        ((marks, said, mend),) = found
        assert (sorted(marks), mend) == (
            ["T-01", "T-02", "T-03"],
            shell_line(["tiles", "firing", "merge", other["name"], "12 March"]),
        )
        assert "one kiln and one day, 2026-03-12" in said
        assert told(sqlite_database, search=Search(firing="12 March")) == [
            (["T-01", "T-03"], said, mend)
        ]


@pytest.mark.parametrize(
    "names",
    [("12 March load 1", "12 March load 2"), ("test a 12.3. am", "12.3. pm"), ("12-3 a", "12-3 b")],
)
def test_names_that_tell_two_loads_of_a_day_are_not_doubted(sqlite_database, names):
    firings = [KILN_DAY | {"name": name} for name in names]
    assert (
        told(sqlite_database, tile("T-01", firing=firings[0]), tile("T-02", firing=firings[1]))
        == []
    )


def test_a_kiln_that_is_fired_twice_a_day_now_and_then_is_not_doubted(sqlite_database):
    def pair(day):
        names = (f"raku {word} {day}" for word in ("north", "south"))
        fired = [KILN_DAY | {"name": name, "fired_on": f"2026-03-{day}"} for name in names]
        return [tile(f"T-{day}{at}", firing=each) for at, each in enumerate(fired, start=3)]

    assert len(told(sqlite_database, *pair(12), *pair(19))) == 2
    assert told(sqlite_database, *pair(26)) == []
    third = tile("U-01", firing=G1 | {"name": "pit east", "kiln": "pit"})
    more = [tile(f"U-0{n}", firing=third["firing"] | {"name": each})
            for n, each in enumerate(("pit west", "pit north"), start=2)]  # fmt: skip
    assert told(sqlite_database, third, *more) == []


def test_looks_of_one_person_that_found_nothing_are_one_doubt_judged_over_the_whole_record(
    sqlite_database,
):
    crawled, clean = {"defects": [{"defect": "crawling"}]}, {"note": "looked by Ann"}
    seen = [clean] * 4 + [crawled] * 5 + [{}] * 3
    tiles = [
        tile(f"{load}-{at:02}", firing=G1 | {"name": load, "fired_on": None},
             inspections=[{"inspected_on": "2026-10-18"} | look])
        for load in ("AX", "BY", "CZ")
        for at, look in enumerate(seen, start=10)
    ]  # fmt: skip
    ((marks, said, mend),) = told(sqlite_database, *tiles)
    assert (len(marks), mend) == (12, 'tiles find --note "looked by Ann"')
    assert "all 12 tiles noted 'looked by Ann'" in said
    assert "at that of 24 others of the same loads 15 had a fault" in said
    of_load = told(sqlite_database, search=Search(firing="BY"))
    assert of_load == [([f"BY-{at}" for at in range(10, 14)], said, mend)]
