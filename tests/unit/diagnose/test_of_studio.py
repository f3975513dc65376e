"""What is clear over tiles of all glazes reaches the screen of one, and the shelf to fire next."""

from dataclasses import replace

import pytest

from diagnose.comparing.counted import DAY, Counted
from diagnose.comparing.of_load import fails_as_a_whole
from diagnose.comparing.of_studio import Clear, clear_counts, counter, of_studio, with_studio
from diagnose.comparing.over_tiles import over_tiles
from diagnose.comparing.set_apart_pairs import Side
from diagnose.next_tiles import of_tile
from diagnose.next_tiles.changes import candidates
from diagnose.next_tiles.choice import Rated, tells
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.report import why
from tests.unit.diagnose.test_comparison import tile
from tests.unit.diagnose.test_next_tiles import OWNED, RED, WHITE
from tiles.cli.why_screen import lines
from tiles.records.derived import firing_key

GLAZES = ("moss", "honey", "plum", "sage", "pond")


def fired(number, failed, *, body=RED, bisque="04", glaze=None, mm=0.8, cone="05"):
    glaze = {"name": glaze or GLAZES[number % 5], "kind": "jar", "role": "glaze",
             "finish": "gloss", "cone_low": "06", "cone_high": "04"}  # fmt: skip
    layer = {"glaze": glaze, "coats": 2, "thickness_mm": mm, "method": "brush"}
    return tile(number, defects=["pinholes"] * failed, body=body, bisque_cone=bisque,
                cone_reached=cone, areas=[{"number": 1, "layers": [layer]}])  # fmt: skip


def soft_bisque(bad=8):
    """The red clay pinholes from the soft bisque alone, the white one from neither."""
    red = [fired(n, n < bad, bisque="06") for n in range(10)]
    red += [fired(20 + n, n == 0, bisque="04") for n in range(12)]
    return red + [
        fired(40 + n, False, body=WHITE, bisque=("06", "04")[n % 2], mm=0.7 + n % 3 / 10)
        for n in range(20)
    ]


def asked(record, records):
    others = [each for each in records if each is not record]
    return with_studio(why(record, None, others), counter(lambda: records))


def test_a_clear_pair_of_the_studio_is_told_of_a_tile_that_is_one_of_them():
    records = soft_bisque()
    told = "with body red clay and with a bisque at cone 06 or cooler: 8 of 10 tiles had pinholes"
    assert told in over_tiles(records, None, "pinholes").together
    (diagnosis,) = asked(records[0], records)
    assert diagnosis.as_dict()["all_glazes"] == (
        "whatever the glaze, body red clay and a bisque at cone 06 or cooler: 8 of 10 tiles had "
        "pinholes; all others: 1 of 32."
    )
    for show_all in (False, True):
        said = " ".join(" ".join(lines(records[0], [diagnosis], show_all=show_all)).split())
        assert "Whatever the glaze, body red clay and a bisque at cone 06 or cooler: 8 of" in said


@pytest.mark.parametrize(
    ("words", "is_told"),
    [
        (["broken"], True),
        (["broken", "Broken"], True),
        (["broken", "chipped"], False),
        (["streaky", "patchy"], True),
        ([""], False),
    ],
)
def test_other_faults_are_counted_over_all_glazes_only_where_their_words_are_the_same(
    words, is_told
):
    records = [each.model_copy(deep=True) for each in soft_bisque()]
    seen = [each for record in records for look in record.inspections for each in look.defects]
    for at, each in enumerate(seen):
        each.defect, each.note = "other", words[at % len(words)] or None
    assert bool(clear_counts(records, "other").counts) is is_told


def test_the_tile_that_failed_on_the_sound_side_is_not_one_of_them():
    records = soft_bisque()
    (diagnosis,) = asked(records[10], records)
    assert diagnosis.defect == "pinholes" and diagnosis.as_dict()["all_glazes"] is None


def test_what_is_but_a_hint_over_all_tiles_is_not_told_of_one():
    records = soft_bisque(bad=4)
    assert "hint" in over_tiles(records, None, "pinholes").together
    assert of_studio(why(records[0])[0].case, counter(lambda: records)) is None


@pytest.mark.parametrize(
    ("bad", "good", "side"), [("06", "04", "06 or cooler"), ("04", "06", "04 or hotter")]
)
def test_a_single_clear_fact_is_told_with_its_failing_side(bad, good, side):
    records = [fired(n, n < 8, bisque=bad) for n in range(10)]
    records += [fired(20 + n, False, bisque=good) for n in range(15)]
    found = of_studio(why(records[0])[0].case, counter(lambda: records))
    assert found.say == (
        f"whatever the glaze, a bisque at cone {side}: 8 of 10 tiles had pinholes; all others: 0 "
        "of 15."
    )
    assert (found.failed, found.sides[0].is_more) == (8, bad == "06")  # so many cones below 04


@pytest.mark.parametrize("is_pair", [False, True])
def test_all_others_say_on_how_many_the_fact_is_not_recorded(is_pair):
    records = soft_bisque() if is_pair else [fired(n, n < 8, bisque="06") for n in range(10)]
    if not is_pair:
        records += [fired(60 + n, False) for n in range(15)]
    records += [fired(90 + n, False, body=RED, bisque=None) for n in range(5)]
    found = of_studio(why(records[0])[0].case, counter(lambda: records))
    assert found.say.endswith(
        f"all others: {'1 of 32' if is_pair else '0 of 15'}, not recorded on 5."
    )


def test_of_a_fault_on_two_tiles_alone_nothing_is_clear():
    records = [fired(n, True, bisque="06") for n in range(2)]
    records += [fired(20 + n, False, bisque="04") for n in range(60)]
    assert of_studio(why(records[0])[0].case, counter(lambda: records)) is None


def test_the_day_alone_is_no_fact_of_the_studio():
    """What was fired last failed: that tells no more than when it began."""

    def on(day, number, failed):
        firing = {"name": f"F{day}", "kind": "glaze", "fired_on": f"2024-03-{day:02}"}
        record = fired(number, failed).model_dump() | {"firing": firing}
        return type(fired(0, False)).model_validate(record)

    records = [on(1 + n, n, n >= 15) for n in range(25)]
    assert over_tiles(records, None, "pinholes").differences[0].name == DAY
    assert clear_counts(records, "pinholes") == Clear()


def test_a_clear_glaze_is_left_to_its_own_tiles():
    records = [fired(n, n < 8, glaze="moss") for n in range(10)]
    records += [fired(20 + n, False, glaze="plum") for n in range(15)]
    assert over_tiles(records, None, "pinholes").differences[0].is_firm
    assert of_studio(why(records[0])[0].case, counter(lambda: records)) is None


def test_all_tiles_are_not_read_where_own_tiles_of_the_glaze_tell_enough():
    records = soft_bisque()
    (diagnosis,) = why(records[0], None, [fired(60 + n, n < 6, glaze=GLAZES[0],
                                                bisque=("06", "04")[n // 6])
                                          for n in range(12)])  # fmt: skip
    assert any(each.lift > 0 for each in diagnosis.case.own.lessons)

    def read():
        raise AssertionError

    assert with_studio([diagnosis], counter(read)) == [diagnosis]


@pytest.mark.parametrize(
    "more", [{"instead_of": "crawling"}, {"defect": "crawling", "also_explains": ["pinholes"]}]
)
def test_a_fault_that_is_another_one_or_that_a_worse_one_explains_is_not_counted(more):
    records = soft_bisque()
    (plain,) = why(records[0])
    asked = [replace(plain, **more), *([plain] if "also_explains" in more else [])]
    assert with_studio([plain], counter(lambda: records))[0].case.studio
    assert with_studio(asked, counter(lambda: records))[-1].case.studio is None


def test_the_cause_that_has_it_is_named_where_another_one_comes_first():
    records = soft_bisque()
    thick = fired(0, True, bisque="06", mm=2.0, cone="06")
    records[0] = thick
    (diagnosis,) = asked(thick, records)
    assert diagnosis.case.first.name == "coat_too_thick"
    assert "That speaks for: the bisque was too cool" in " ".join(
        " ".join(lines(thick, [diagnosis])).split()
    )


@pytest.mark.parametrize("is_told", [True, False])
def test_the_trial_of_it_goes_first_the_bisque_before_another_clay(is_told):
    records = soft_bisque()
    thick = fired(0, True, bisque="06", mm=2.0, cone="06")
    records[0] = thick
    (diagnosis,) = asked(thick, records)
    if not is_told:
        diagnosis = replace(diagnosis, case=replace(diagnosis.case, studio=None))
    tiles = next_tiles(diagnosis, OWNED, others=records).tiles
    changes = [each.trial.change for each in tiles]
    expected = ["bisque cone 06 -> 04", "body red clay -> white clay"]
    assert (changes[:2] == expected) is is_told, changes


@pytest.mark.parametrize("parts", [True, False])
def test_a_tile_that_tests_it_is_worth_firing_whatever_it_tells_of_the_causes(parts):
    case = why(fired(0, True))[0].case
    shares = tuple(row.share for row in case.rows)
    change = candidates(case.view, case, OWNED)[0]
    rated = Rated(change, (0.5,) * len(shares), 0.5, 0.0, parts=parts)
    assert tells(case, shares, rated) is parts
    assert of_tile._says_something(case, rated) is parts


def in_load(number, failed, load, *, glaze=None, body=RED, clues=None, bisque="04"):
    firing = {"name": load, "kind": "glaze"}
    record = fired(number, failed, glaze=glaze, body=body, bisque=bisque)
    told = record.model_dump() | {"firing": firing, "clues": clues or {}}
    return type(record).model_validate(told)


def a_bad_load(only=None, clues=None):
    """Load F9 failed on 7 of 10 tiles, those of other loads on 2 of 40."""
    records = [
        in_load(n, n < 7, "F9", glaze=only, clues=clues if n == 8 else None) for n in range(10)
    ]
    return records + [in_load(20 + n, n in (0, 9), f"F{n % 4}") for n in range(40)]


def beside(record, records):
    """Its diagnosis beside the tiles that share its glaze or its firing, as `why` reads them."""
    count_of = counter(lambda: records)
    others = [
        each
        for each in records
        if each is not record
        and (
            firing_key(each) == firing_key(record)
            or each.areas[0].layers[0].glaze.name == record.areas[0].layers[0].glaze.name
        )
    ]
    (found,) = with_studio(why(record, None, others, count_of), count_of)
    return found


def test_a_load_that_failed_whatever_the_glaze_is_told_and_speaks_for_what_it_shares():
    records = a_bad_load()
    found = beside(records[0], records)
    counts = "whatever the glaze, firing F9: 7 of 10 tiles had pinholes; all others: 2 of 40"
    assert found.as_dict()["all_glazes"] == f"{counts}."
    screen = " ".join(" ".join(lines(records[0], [found])).split())
    assert screen.count("firing F9: 7 of 10 tiles had pinholes; all others: 2 of 40") == 1
    moved = {row.name for row in found.case.rows if row.own > 0}
    assert {"damp_ware", "fast_or_no_hold", "bisque_too_cool"} <= moved
    assert not moved & {"coat_too_thick", ""}
    (of_load,) = (each for each in found.case.own.lessons if each.measure == "firing")
    assert (of_load.here_failed, of_load.here_all) == (6, 9), "it is no witness for itself"
    assert found.case.ask_first[0] == "loaded_damp"
    elsewhere = beside(records[10], records)
    assert elsewhere.case.load is None and not elsewhere.case.ask_first


def test_a_load_of_one_glaze_or_of_one_clay_is_no_load_that_failed():
    assert clear_counts(a_bad_load(only="moss"), "pinholes").load is None
    of_clay = [in_load(n, n < 7, "F9", body=WHITE) for n in range(10)]
    of_clay += [in_load(20 + n, n in (0, 9), f"F{n % 4}") for n in range(40)]
    of_clay += [in_load(60 + n, n % 10 < 7, f"F{n % 4}", body=WHITE) for n in range(20)]
    assert clear_counts(of_clay, "pinholes").load is None
    assert clear_counts(a_bad_load(), "pinholes").load


def parted_by_load(records, is_here="F9".__eq__):
    areas = [Counted(each, each.areas[0], bool(each.inspections[0].defects)) for each in records]
    return fails_as_a_whole(Side("firing", "firing F9", 0, 0, is_here), areas)


def test_a_load_fails_as_a_whole_beyond_what_went_in_and_is_a_single_one():
    records = a_bad_load()
    assert parted_by_load(records)
    assert not parted_by_load(records, "F9".__ne__)
    swapped = [in_load(n, n < 3 or n >= 20, f"F{9 if n < 20 else n % 4}") for n in range(60)]
    assert not parted_by_load(swapped, "F9".__ne__), "all loads but one are no load"
    assert not parted_by_load(swapped), "it fails less than the others"
    thick = [in_load(n, n < 7, "F9") for n in range(10)]
    thick += [in_load(20 + n, n < 20, f"F{n % 4}") for n in range(30)]
    thin = [in_load(60 + n, False, f"F{n % 4}") for n in range(60)]
    for each in thick:
        each.areas[0].layers[0].coats = 4
    assert over_tiles([*thick, *thin], None, "pinholes").differences[0].name == "coats"
    assert not parted_by_load([*thick, *thin]), "as many coats fail as often in other loads"


def bisqued(number, failed, load, name, *, cone="04"):
    record = in_load(number, failed, load, bisque=cone)
    fired = {"name": name, "kind": "bisque", "target_cone": cone}
    return type(record).model_validate(record.model_dump() | {"bisque_firing": fired})


@pytest.mark.parametrize("cone", ["04", "08"])
@pytest.mark.parametrize("is_elsewhere", [True, False])
def test_what_fails_by_its_bisque_is_no_load_that_failed(cone, is_elsewhere):
    """Of F9 the tiles of bisque B8 failed, and one of B3 as it may anywhere."""
    soft = [bisqued(n, True, "F9", "B8", cone=cone) for n in range(8)]
    sound = [bisqued(8 + n, n == 0, "F9", "B3") for n in range(7)]
    rest = [bisqued(20 + n, n in (0, 9), f"F{n % 4}", "B3") for n in range(40)]
    rest += [bisqued(70 + n, n < 3, "F2", "B8", cone=cone) for n in range(4 * is_elsewhere)]
    records = [*soft, *sound, *rest]
    assert over_tiles(records, None, "pinholes").differences[0].is_firm
    assert clear_counts(records, "pinholes").load is None
    assert beside(sound[0], records).case.load is None
    for each in sound:  # no other load had their bisque
        each.bisque_firing.name = "B4"
    assert clear_counts(records, "pinholes").load is None


def test_what_fails_by_the_cone_of_its_bisque_is_no_load_that_failed():
    """No bisque firing is on record, only to which cone each tile was bisqued."""
    records = [in_load(n, True, "F9", bisque="08") for n in range(8)]
    records += [in_load(8 + n, n == 0, "F9") for n in range(7)]
    records += [in_load(20 + n, n in (0, 9), f"F{n % 4}") for n in range(40)]
    assert not parted_by_load(records) and parted_by_load(a_bad_load())
    assert beside(records[8], records).case.load is None


@pytest.mark.parametrize("is_elsewhere", [True, False])
def test_a_load_of_two_bisques_that_failed_alike_failed_as_a_whole(is_elsewhere):
    load = [bisqued(n, n % 5 < 4, "F9", ("B8", "B3")[n % 2]) for n in range(14)]
    names = ("B3", "B8") if is_elsewhere else ("B1", "B2")
    rest = [bisqued(20 + n, n in (0, 9), f"F{n % 4}", names[n // 4 % 2]) for n in range(40)]
    assert clear_counts([*load, *rest], "pinholes").load


def test_where_most_of_the_load_was_said_to_fail_its_count_is_told_and_weighs_nothing():
    records = a_bad_load()
    records[0] = in_load(0, True, "F9", clues={"most_of_load_affected": "yes"})
    found = beside(records[0], records)
    assert found.case.load and not any(row.own for row in found.case.rows)


def test_what_was_noted_of_the_load_on_another_tile_holds_for_this_one_in_part():
    records = a_bad_load(clues={"loaded_damp": "yes"})
    found = beside(records[0], records)
    fact = found.case.facts["loaded_damp"]
    assert (fact.value, fact.sister, fact.trust < 1) == ("yes", records[8].mark, True)
    damp = next(each for each in found.causes if each.name == "damp_ware")
    assert damp in found.causes[:2]
    assert any(f"{records[8].mark} of the same load: " in each for each in damp.for_)
    said = in_load(1, True, "F9", clues={"loaded_damp": "no"})
    fact = beside(said, [said, *records[:1], *records[2:]]).case.facts["loaded_damp"]
    assert (fact.value, fact.sister) == ("no", ""), "what is on its own record goes first"
    records[9] = in_load(9, False, "F9", clues={"loaded_damp": "no"})
    assert "loaded_damp" not in beside(records[0], records).case.facts


def test_a_pair_with_a_glaze_does_not_hide_the_load():
    records = a_bad_load()
    for n in range(8):
        bisque = ("06", "04")[n % 2]
        records.append(in_load(70 + n, n % 2 == 0, f"F{n % 4}", glaze="fire", bisque=bisque))
        records.append(in_load(90 + n, False, f"F{n % 4}", bisque="06"))
    assert "glaze fire" in over_tiles(records, None, "pinholes").together
    told = clear_counts(records, "pinholes")
    assert told.load and told.counts == (told.load,)
