"""A time chooses tiles; what they are held against are all those fired before or after."""

import pytest

from diagnose.comparing.of_stretch import TO_ASK, of_stretch
from tests.unit.diagnose.test_late_looks import LATE, UNLOADED
from tests.unit.diagnose.test_late_looks import tile as late_tile
from tests.unit.diagnose.test_of_studio import fired


def on(day, number, failed, load="F9"):
    record = fired(number, failed)
    firing = {"name": load, "kind": "glaze", "fired_on": f"2024-{day}"}
    return type(record).model_validate(record.model_dump() | {"firing": firing})


def june(failed, loads=1):
    then = [on("06-03", n, n < failed, f"F{9 - n % loads}") for n in range(10)]
    return then, [on(f"0{1 + n % 4}-11", 20 + n, n < 2, f"E{n % 4}") for n in range(40)]


def told(then, rest):
    return of_stretch([*then, *rest], {each.mark for each in then}, None, "pinholes")


def test_a_bad_load_leads_against_all_others():
    said, is_clear = told(*june(6))
    assert is_clear and said.endswith(TO_ASK)
    assert said.startswith(
        "6 of these 10 tiles, all of firing F9, had pinholes; of 40 fired before or after, 2 "
        "(chance would do this less than 1 time in 1000)."
    )
    assert told(*june(6, loads=2))[0].startswith("6 of these 10 tiles had pinholes; of 40")


@pytest.mark.parametrize("failed", [0, 1])
def test_what_may_be_chance_is_told_and_asks_for_nothing(failed):
    said, is_clear = told(*june(failed))
    assert said.startswith(f"{failed} of these 10 tiles, all of firing F9, had pinholes")
    assert "may be chance" in said and TO_ASK not in said and not is_clear


def test_with_nothing_beside_them_nothing_is_told():
    assert told(june(6)[0], []) == ("", False)
    then, rest = june(0)
    assert told(then, [each for each in rest if not each.inspections[0].defects]) == ("", False)


def test_a_time_that_did_better_than_others_asks_for_nothing():
    then, rest = june(0)
    bad = [on("02-11", 80 + n, True, "E7") for n in range(20)]
    said, is_clear = told(then, [*rest, *bad])
    assert said.startswith("0 of these 10 tiles") and "may be chance" not in said
    assert TO_ASK not in said and not is_clear


def test_what_hangs_on_who_was_looked_at_late_is_not_clear():
    """All looked at late crazed then and none at other times; of most nobody looked again."""
    then = [late_tile(n, UNLOADED, f"{LATE}!") for n in range(8)]
    rest = [late_tile(20 + n, UNLOADED, LATE) for n in range(8)]
    marks = {each.mark for each in then}
    assert of_stretch([*then, *rest], marks, "thaw", "crazing")[1]
    early = [late_tile(40 + n, UNLOADED) for n in range(40)]
    marks |= {each.mark for each in early}
    said, is_clear = of_stretch([*then, *early, *rest], marks, "thaw", "crazing")
    assert said.startswith("8 of these 8 tiles") and not is_clear
