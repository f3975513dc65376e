"""A learned model as text, so that a question tomorrow need not learn it again.

The text is JSON: coefficients, their uncertainty, the pools that blanks are drawn from, and the
fingerprint of the records, the rules and the program it was learned with. A file of another form,
or whose fingerprint no longer fits, or in which anything was changed, is not used: the model is
learned again from the records.
"""

import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from diagnose.learning import blanks, design, newton
from diagnose.learning.model import DefectModel, Learned
from diagnose.learning.pairs import Effects, Known
from diagnose.learning.validate import Verdict

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from tiles.records.forms import TileRecord

FORM = 7
"""Changes with the shape of the file."""
DIGITS = 5
Verdicts = dict[str, dict[str, Verdict]]
"""By what was held back, then by defect."""
LEARNS = ("diagnose", "tiles.chemistry", "tiles.records")
"""Packages from whose code and data a model follows."""


def fingerprint(records: "Sequence[TileRecord]") -> str:
    """A hash of all records and of what learns from them: the same for the same data in any order.

    The user's own analyses of the recipes are no part of a record, and count as well. What learns
    is the rules and the program itself (``LEARNS``): a kept model never outlives a change of
    either.
    """
    from hashlib import sha256

    whole = sha256(f"form {FORM}\n".encode())
    layers = (layer for each in records for area in each.areas for layer in area.layers)
    own = {each for layer in layers if layer.recipe for each in layer.recipe.own}
    for text in (*sorted(each.model_dump_json() for each in records), *sorted(map(repr, own))):
        whole.update(text.encode() + b"\n")
    for file in _files_that_learn():
        whole.update(file.read_bytes())
    return whole.hexdigest()


def _files_that_learn() -> "list[Traversable]":
    """Code and data of the packages ``LEARNS``, in a fixed order."""
    from importlib.resources import files

    found, folders = [], [files(package) for package in LEARNS]
    while folders:
        inside = sorted(folders.pop().iterdir(), key=lambda each: each.name)
        folders += [each for each in inside if each.is_dir() and each.name != "__pycache__"]
        found += [each for each in inside if each.name.endswith((".py", ".toml", ".csv"))]
    return found


def save(file: Path, learned: Learned, mark: str, verdicts: Verdicts) -> None:
    """Write a model beside the database; an unfinished write leaves the old file as it was."""
    text = json.dumps(to_plain(learned, mark, verdicts), separators=(",", ":"))[1:]
    unfinished = file.with_name(file.name + ".part")
    try:
        unfinished.write_text(_opening(text) + text, encoding="utf-8")
        unfinished.replace(file)
    finally:
        unfinished.unlink(missing_ok=True)


def load(file: Path, mark: str) -> tuple[Learned, Verdicts] | None:
    """The kept model, or None when there is none that is whole and fits these records and rules."""
    try:
        text = file.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return None
    if not text.startswith(_opening(text[_OPENING:])):  # something was changed in it, or lost
        return None
    plain = json.loads(text)
    is_of_these = (plain["form"], plain["data"]) == (FORM, mark)
    return from_plain(plain) if is_of_these else None


def _opening(rest: str) -> str:
    """What the file begins with: a hash of all that follows."""
    from hashlib import sha256

    return f'{{"content":"{sha256(rest.encode()).hexdigest()}",'


_OPENING = len(_opening(""))


def to_plain(learned: Learned, mark: str, verdicts: Verdicts) -> dict:
    """Everything a forecast needs, in lists, numbers and words."""
    return {
        "form": FORM,
        "data": mark,
        "widths": asdict(learned.widths),
        "glazes": learned.glazes,
        "bodies": learned.bodies,
        "pairs": asdict(learned.known_pairs),
        "met": learned.met,
        "blanks": asdict(learned.blanks),
        "verdicts": {
            split: {name: asdict(verdict) for name, verdict in told.items()}
            for split, told in verdicts.items()
        },
        "defects": {name: _plain(model) for name, model in learned.defects.items()},
    }


def from_plain(plain: dict) -> tuple[Learned, Verdicts]:
    """The model and verdicts that `to_plain` wrote."""
    models = {name: _model(name, each) for name, each in plain["defects"].items()}
    pools = {
        name: {key: (count, values) for key, (count, values) in pool.items()}
        for name, pool in plain["blanks"]["pools"].items()
    }
    learned = Learned(
        blanks.Blanks(pools, plain["blanks"]["recipes"]),
        plain["glazes"],
        models,
        plain["met"],
        design.Widths(**plain["widths"]),
        plain["bodies"],
        Known(**plain["pairs"]),
    )
    return learned, {
        split: {name: Verdict(**each) for name, each in told.items()}
        for split, told in plain["verdicts"].items()
    }


def _plain(model: DefectModel) -> dict:
    fitted, paired = model.fitted, model.paired
    return {
        "state": model.state,
        "inspected": model.inspected,
        "seen": model.seen,
        "usual": model.usual,
        "widths": asdict(model.widths),
        "layout": asdict(model.layout),
        "b": _rounded(fitted.b),
        "u": _rounded(fitted.u),
        "cov": [_rounded(row[: at + 1]) for at, row in enumerate(fitted.cov)],
        "coupling": [_rounded(row) for row in fitted.coupling],
        "curvature": _rounded(fitted.curvature),
        "log_evidence": fitted.log_evidence,
        "paired": paired and {"u": _rounded(paired.u), "curvature": _rounded(paired.curvature)},
    }


def _rounded(values) -> list[float]:
    return [float(f"{value:.{DIGITS}g}") for value in values.tolist()]


def _model(defect: str, plain: dict) -> DefectModel:
    import numpy as np

    size, paired = len(plain["cov"]), plain["paired"]
    cov = np.zeros((size, size))
    for at, row in enumerate(plain["cov"]):
        cov[at, : at + 1] = cov[: at + 1, at] = row
    fitted = newton.Fitted(
        np.array(plain["b"]),
        np.array(plain["u"]),
        cov,
        np.array(plain["coupling"]).reshape(size, len(plain["u"])),
        np.array(plain["curvature"]),
        plain["log_evidence"],
    )
    return DefectModel(
        defect,
        plain["state"],
        plain["inspected"],
        plain["seen"],
        design.Layout(**plain["layout"]),
        fitted,
        design.Widths(**plain["widths"]),
        plain["usual"],
        paired and Effects(*(np.array(paired[name]) for name in ("u", "curvature"))),
    )
