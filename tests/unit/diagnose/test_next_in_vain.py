"""No tile is fired for a change that own tiles answer already, nor towards a fault they show."""

import pytest

from diagnose.fixes.bench import Step
from diagnose.fixes.of_tile import fix
from diagnose.fixes.shapes import Change
from diagnose.next_tiles.changes import Candidate
from diagnose.next_tiles.choice import Rated, choose
from diagnose.next_tiles.of_tile import next_tiles
from diagnose.next_tiles.open_faults import open_faults
from diagnose.report import why
from tests.unit.diagnose.test_next_tiles import OTHER, OWNED, WHITE, tile
from tiles.records import forms


def copy(record, mark, *, faults=(), **fields):
    seen = [{"defect": each} for each in faults]
    looks = [{"inspected_on": "2024-05-01", "defects": seen}]
    values = record.model_dump(exclude_none=True)
    return forms.read(forms.TileRecord, values | {"mark": mark, "inspections": looks} | fields)


def found(record, others):
    (answer,) = why(record, others=[record, *others])
    return next_tiles(answer, OWNED, others=[record, *others])


def changes(told):
    return {each.trial.change for each in told.tiles}


def other_coats():
    """On white clay six of one or two coats that failed, six of three or four that are sound."""
    of = "underfired"
    thin = [copy(tile(of, coats=1 + n % 2), f"F-{n}", faults=[of], body=WHITE) for n in range(6)]
    return thin + [copy(tile(of, coats=3 + n % 2), f"S-{n}", body=WHITE) for n in range(6)]


def test_a_change_of_which_most_own_tiles_failed_is_not_proposed():
    failed = [copy(tile("crawling", coats=2), f"F-{n}", faults=["crawling"]) for n in range(3)]
    assert "coats 3 -> 2" in changes(found(tile("crawling"), []))
    told = found(tile("crawling"), failed)
    assert "coats 3 -> 2" not in changes(told)
    assert any(each.startswith("coats 3 -> 2 (3 of your 3 tiles made so") for each in told.in_vain)


def test_a_change_that_stays_on_the_failing_side_of_a_clear_count_is_not_proposed():
    told = found(tile("underfired", coats=1), other_coats())
    assert "coats 1 -> 2" not in changes(told)
    assert "coats 1 -> 3" in changes(told)
    (said,) = [each for each in told.in_vain if each.startswith("coats 1 -> 2")]
    assert "of 6 like this one, with 2 coats or fewer, 6 did" in said
    more = found(tile("underfired", coats=2), other_coats())
    assert not any("coats 2 -> 3" in each for each in more.in_vain)


def test_a_fix_goes_on_to_coats_with_which_own_tiles_are_sound():
    thin = tile("underfired", coats=1)
    steps = {
        each.changes[0].said
        for others in ([], [thin, *other_coats()])
        for cause in fix(thin, others=others)[0].causes
        for each in cause.fixes
        if each.key == "thicker"
    }
    assert steps == {"coats 1 -> 2", "coats 1 -> 3"}


@pytest.mark.parametrize(("spoiled", "is_left_out"), [(2, True), (1, False)])
def test_no_bisque_is_tried_on_which_another_glaze_shows_a_fault(spoiled, is_left_out):
    hot = tile("crawling", bisque="04", glaze=OTHER)
    there = [copy(hot, f"H-{n}", faults=["pinholes"] if n < spoiled else []) for n in range(2)]
    here = [copy(hot, f"C-{n}", bisque_cone="06") for n in range(4)]
    told = found(tile("running"), [*there, *here])
    said = "bisque cone 06 -> 04 (2 of 2 areas of other jar bisqued so had pinholes)"
    assert (said in told.in_vain) is is_left_out


def test_what_needs_a_firing_of_its_own_stands_last():
    def rated(firing, again):
        made = Step("made", "", [Change("made", 0, 1)], firing=firing)
        return Rated(Candidate(firing, made), again, 0.5)

    own, plain = rated("cooled slowly", (0.05, 0.95)), rated("", (0.3, 0.7))
    assert choose([own, plain], (0.5, 0.5), 2, []) == [plain, own]


def test_of_two_tiles_with_a_fault_that_with_a_known_cone_is_asked_about():
    dated = copy(tile("crawling"), "A-1", faults=["crawling"])
    blank = copy(tile("crawling", cone=None), "B-2", faults=["crawling"])
    (fault,) = open_faults([dated, blank])
    assert fault.record().mark == "A-1"
