"""Another clay is told with what else own tiles of the glaze show there."""

from dataclasses import replace

from diagnose.fixes.of_tile import fix
from diagnose.own_tiles.other_fault import other_fault
from tests.unit.diagnose.test_next_swaps import CRAZED, TO_WHITE, sound
from tests.unit.diagnose.test_next_tiles import OWNED, WHITE, proposed
from tiles.cli import next_text
from tiles.cli.fix_plan import Marked

SAID = "On white clay 2 of your 6 tiles of pond had another fault: crawling."


def on_white(failed, defect="crawling"):
    return sound(6, failed=failed, defect=defect, body=WHITE)


def test_the_commonest_other_fault_is_counted_where_it_is_no_chance():
    for failed, defect, said in ((2, "crawling", SAID), (1, "crawling", ""), (2, "crazing", "")):
        assert other_fault(on_white(failed, defect), "pond", "white clay", "crazing") == said
    assert other_fault(on_white(2), "rain", "white clay", "crazing") == ""
    assert other_fault(on_white(2), None, "white clay", "crazing") == ""


def test_fix_and_next_tell_it_beside_the_other_clay():
    others = on_white(2)
    (answer,) = fix(CRAZED, bodies=OWNED.bodies, others=others)
    bodies = [each for cause in answer.causes for each in cause.fixes if each.key == "other_body"]
    assert bodies and bodies[0].spoils[0] == SAID
    found = proposed(CRAZED, others=others)
    (white,) = [each for each in found.tiles if each.trial.change == TO_WHITE]
    assert white.other_fault == SAID
    alone = replace(found, tiles=[white], control=None)
    told = next_text.screen(alone, [Marked("N-1", "crazing", white.trial)], is_planned=False)
    assert SAID in " ".join(" ".join(told).split())
