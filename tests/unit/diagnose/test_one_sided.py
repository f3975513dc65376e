"""What was noted of failing tiles alone."""

from diagnose.comparing.compared import compared
from diagnose.comparing.one_sided import noted_of_failing_alone
from tests.unit.diagnose.test_comparison import tile
from tiles.cli.why_glaze import Asked, _to_record

DUSTY = {"bisque_dusty": "yes"}


def noted(tiles):
    return noted_of_failing_alone(compared(tiles, "pond", "crawling").areas)


def test_a_clue_of_failing_tiles_alone_is_worth_recording_of_the_sound_ones():
    failing = [tile(n, defects=["crawling"], clues=DUSTY) for n in range(3)]
    sound = [tile(10 + n) for n in range(3)]
    assert noted([*failing, *sound]) == [("bisque_dusty", "yes", 3)]
    assert noted([*failing, *sound[:2]]) == noted([*failing[:2], *sound]) == []
    assert noted([*failing, *sound, tile(20, clues={"bisque_wiped": "yes"})]) == []
    told = " ".join(_to_record("crawling", Asked("pond"), [*failing, *sound]))
    assert "Bisque dusty: yes on 3 failing tiles, and not recorded on any sound one" in told


def test_how_a_fault_looks_is_not():
    failing = [tile(n, defects=["crawling"], clues={"raw_coat_cracked": "yes"}) for n in range(3)]
    looks = [tile(n, defects=["crawling"], clues={"ware_edges_sharp": "yes"}) for n in range(3)]
    sound = [tile(10 + n) for n in range(3)]
    assert [name for name, *_ in noted([*failing, *sound])] == ["raw_coat_cracked"]
    assert noted([*looks, *sound]) == []
