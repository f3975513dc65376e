"""Reads the diagnosis cases, answers each, and says which expectations the answer fails."""

import json
import re
from collections import defaultdict
from functools import cache
from pathlib import Path

from diagnose.report import why
from diagnose.rules import load
from tiles.records.forms import TileRecord

CASES = Path(__file__).parent / "cases"
SPECIAL = ("not enough to tell", "not a fault", "misnamed")


def read(pattern: str) -> list[dict]:
    """The cases of the files that match, in the order of their names."""
    files = sorted(CASES.glob(pattern))
    return [case for file in files for case in json.loads(file.read_text(encoding="utf-8"))]


def answers(case: dict) -> list:
    """Every diagnosis of the tile of the case, the asked defect first."""
    found = why(TileRecord.model_validate(case["record"]))
    asked = [each for each in found if each.defect == case["defect"]]
    return asked + [each for each in found if each not in asked]


def failures(case: dict) -> dict[str, str]:
    """What the answer gets wrong, by the name of the expectation; empty when all is right."""
    expect, found = case["expect"], answers(case)
    told = found[0]
    checks = (_places, _kind, _words, _advice, _others, _notes)
    return {name: text for check in checks for name, text in check(case, expect, told, found)}


def _right(expect: dict, key: str) -> set[str]:
    return {expect[key], *expect.get("also_right", ())}


def _places(case, expect, told, found):
    names = [cause.name for cause in told.causes]
    if "in_first_three" in expect and not _right(expect, "in_first_three") & set(names[:3]):
        yield "in_first_three", f"first three are {', '.join(names[:3])}"
    if "first" in expect and names[0] not in _right(expect, "first"):
        yield "first", f"first is {names[0]}"
    for key in ("not_blamed", "not_first"):
        if names and names[0] in expect.get(key, ()):
            yield key, f"blames {names[0]}"


def _kind(case, expect, told, found):
    kind = case.get("kind", "cause")
    if kind == "not enough to tell" and not told.say.startswith("Not enough"):
        yield "kind", f"says {told.say}"
    if kind == "not a fault" and (told.is_fault or "not a fault" not in told.say.casefold()):
        yield "kind", f"says {told.say}"
    if kind == "misnamed" and told.look_alike != expect["expected_defect"]:
        yield "kind", f"takes it for {told.look_alike or told.defect}"
    if "enough_to_tell" in expect and told.enough_to_tell != expect["enough_to_tell"]:
        yield "enough_to_tell", f"says {told.say}"


def _words(case, expect, told, found):
    rules = {cause.name: cause for cause in load(told.defect).causes}
    wanted = _right(expect, "in_first_three") if "in_first_three" in expect else set()
    texts = [
        f"{rules[name].title} {rules[name].mechanism} {told.say}"
        for name in (cause.name for cause in told.causes[:3])
        if name in wanted
    ]
    for word in expect.get("words", ()) if texts else ():
        if not any(re.search(word, text, re.IGNORECASE) for text in texts):
            yield "words", f"never says {word}"


def _advice(case, expect, told, found):
    for key, causes in (("forbids", told.causes[:3]), ("forbids_first", told.causes[:1])):
        for pattern in expect.get(key, ()):
            for fix in (fix for cause in causes for fix in cause.fixes):
                if re.search(pattern, fix, re.IGNORECASE):
                    yield key, f"advises {fix!r}"


def _others(case, expect, told, found):
    by_defect = {each.defect: each for each in found}
    for defect in expect.get("explains", ()):
        names = [cause.name for cause in by_defect[defect].causes[:3]]
        if not _right(expect, "in_first_three") & set(names):
            yield "explains", f"for {defect} the first three are {', '.join(names)}"


def _notes(case, expect, told, found):
    wanted = expect.get("from_note")
    if wanted and not any(wanted in text.casefold() for text in told.from_notes):
        yield "from_note", f"counted from the notes: {told.from_notes}"


@cache
def scored(pattern: str) -> tuple[tuple[dict, dict], ...]:
    """The cases, each with its failures."""
    return tuple((case, failures(case)) for case in read(pattern))


def share(pattern: str, expectation: str) -> float:
    """The part of the cases with this expectation that meet it."""
    asked = [wrong for case, wrong in scored(pattern) if _asks(case, expectation)]
    return 1 - sum(expectation in wrong for wrong in asked) / len(asked)


def _asks(case: dict, expectation: str) -> bool:
    if expectation == "kind":
        return case.get("kind") in SPECIAL
    return expectation in case["expect"]


def table(pattern: str) -> str:
    """Scores by defect, and every miss."""
    keys = (
        "in_first_three",
        "first",
        "not_first",
        "kind",
        "words",
        "forbids",
        "explains",
        "from_note",
    )
    rows: dict[str, list] = defaultdict(list)
    for case, wrong in scored(pattern):
        rows[case["defect"]].append((case, wrong))
        rows["all"].append((case, wrong))
    lines = ["".join(f"{text:>16}" for text in ("defect", *keys))]
    for name in [*sorted(rows.keys() - {"all"}), "all"]:
        cells = [_cell(rows[name], key) for key in keys]
        lines.append("".join(f"{text:>16}" for text in (name, *cells)))
    misses = [
        f"{case['defect']}: {case['case']}: {key}: {text}"
        for case, wrong in scored(pattern)
        for key, text in wrong.items()
    ]
    return "\n".join([*lines, *misses])


def _cell(rows: list, key: str) -> str:
    asked = [wrong for case, wrong in rows if _asks(case, key)]
    return f"{sum(key not in wrong for wrong in asked)}/{len(asked)}" if asked else "-"


if __name__ == "__main__":
    for folder in ("open", "held_back", "technician"):
        print(f"\n{folder}\n{table(f'{folder}/**/*.json')}")
