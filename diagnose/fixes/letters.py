"""The letters that the fixes of a tile go by, for all its defects: A, B, C without a gap."""

from itertools import count, islice, product
from string import ascii_uppercase

from diagnose.fixes.shapes import Fix


class Letters:
    """One letter for each different step and for each recipe; A to Z, then AA, AB and so on."""

    def __init__(self) -> None:
        self._steps: dict[str, tuple[str, ...] | None] = {}

    def of(self, fix: Fix) -> str:
        """The letter that its step has for another defect already, else the next one."""
        done = _step(fix)
        same = (letter for letter, known in self._steps.items() if known and known == done)
        return next(same, None) or _letter(len(self._steps))

    def take(self, fix: Fix) -> None:
        """Nothing else gets the letter of this fix."""
        self._steps[fix.name] = _step(fix)


def _step(fix: Fix) -> tuple[str, ...] | None:
    """What a step does; each recipe is its own, as the aims of two defects differ."""
    return None if fix.is_recipe else fix.done


def _letter(number: int) -> str:
    names = (name for length in count(1) for name in product(ascii_uppercase, repeat=length))
    return "".join(next(islice(names, number, None)))
