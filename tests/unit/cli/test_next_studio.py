"""In which order ``tiles next`` looks into the open faults of a studio."""

from types import SimpleNamespace

import pytest

from diagnose.comparing.of_studio import Clear
from diagnose.next_tiles.open_faults import OpenFault
from tiles.cli.next_studio import Asked, _most_first
from tiles.cli.next_studio_text import _shelf


def asked(defect, failed, **more):
    fault = {"failed": ["T"] * failed, "waiting": [], "tiles": 30, "is_apart": False}
    return Asked(OpenFault("pond", defect, **fault | more), SimpleNamespace(areas=[]), "05")


def count(failed, is_so=True):
    return SimpleNamespace(failed=failed, holds_of=lambda _record, _area: is_so)


def test_one_fault_alone_stands_for_what_is_clear_over_all_glazes():
    first, second = asked("pinholes", 2), asked("pinholes", 2)
    crawling, other = asked("crawling", 3), asked("other", 9)
    counts = {"pinholes": count(9), "other": count(20)}
    of_few = {name: Clear((count(2), each)) for name, each in counts.items()}
    found = _most_first([other, crawling, first, second], lambda name: of_few.get(name, Clear()))
    assert [id(each) for each in found] == [id(each) for each in (first, crawling, second, other)]
    assert [each.count for each in found] == [counts["pinholes"], None, None, None]


@pytest.mark.parametrize(
    ("failed", "more", "told"),
    [
        (2, {}, count(2)),
        (2, {}, count(9, is_so=False)),
        (2, {"waiting": ["N-1"]}, count(9)),
        (2, {"is_apart": True}, count(9)),
        (1, {}, count(9)),
    ],
)
def test_it_stands_for_no_fault_without_a_trial_nor_for_its_own_tiles_alone(failed, more, told):
    (found,) = _most_first([asked("pinholes", failed, **more)], lambda _defect: Clear((told,)))
    assert found.count is None


def test_what_keeps_a_shelf_whole_is_told_in_short_too():
    def of(mark, saves_shelf):
        fault = OpenFault("pond", "pinholes", failed=[mark], tiles=3)
        found = SimpleNamespace(saves_shelf=saves_shelf)
        asked = SimpleNamespace(fault=fault, defect="pinholes", found=found)
        return asked, [SimpleNamespace(mark=mark)]

    said = "T-1 ran: kiln wash the shelf."
    short = "\n".join(_shelf("05", "", [of("T-1", said), of("T-2", "")], []))
    assert short.count(said) == 1 and "pond: pinholes on 1 of 3 tiles: T-2" in short
