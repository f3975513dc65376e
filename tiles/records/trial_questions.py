"""Trials that would show nothing of their one change: from another bucket, in another kiln."""

import re

from tiles.errors import Questioned, shell_line
from tiles.records.forms import BatchRecord, FiringRecord, LayerRecord, TileRecord
from tiles.records.spoken import some
from tiles.records.words import same_name

HINT_OF_TRIALS = (
    f"the batch that it is a trial of, or {shell_line(['--trial-of', ''])} (in tiles change) where "
    "it is no trial any more; or --yes if it really was so."
)
_BUCKET_CHANGED = re.compile(r"(batch|specific gravity|dry glaze mixed) ([^;]*?) ?-> ([^;]+)")
"""How a trial says that another bucket, or the same one mended, is the one thing changed."""
_KILN_CHANGED = re.compile(r"(?:^|; )kiln [^;]*? ?-> ([^;]+)")


def trial_questions(record: TileRecord) -> list[str]:
    """A trial of one bucket that was coated from another tells nothing of its one change."""
    if not record.trial_of:
        return []
    others = (layer.batch for layer in _tops(record) if layer.batch)
    name = next((each.name for each in others if _is_other(record.trial_change, each)), None)
    return [_said(record.trial_change, f"from batch {name!r}")] if name else []


def require_same_glaze(before: TileRecord, record: TileRecord) -> None:
    """Ask before a trial of another bucket gets another glaze.

    Not where it is from a bucket of that name all the same: its glaze has got another name.

    Raises
    ------
    Questioned
        No top glaze of the tile as it was is left.
    """
    glazes, left = (
        [layer.glaze.name for layer in _tops(each) if layer.glaze] for each in (before, record)
    )
    told = _BUCKET_CHANGED.match(record.trial_change or "") if record.trial_of else None
    if told is None or told[1] == "batch" and _is_from(told[3].strip(), record):
        return
    if glazes and left and not set(glazes) & set(left):
        said = _said(record.trial_change, f"with {left[0]} in place of {glazes[0]}")
        raise Questioned(f"{record.mark}: {said}", HINT_OF_TRIALS, field="glaze")


def kiln_of(trial: TileRecord, failed: TileRecord) -> str | None:
    """The kiln that a trial is for: the failed tile's, or the one that it changes to."""
    told = _KILN_CHANGED.search(trial.trial_change or "")
    if told:
        return told[1].strip()
    return failed.firing.kiln if failed.firing else None


def require_kiln(firing: FiringRecord, meant: dict[str, str]) -> None:
    """Ask before trials go into another kiln than the one they are for.

    That is one change more, or of a trial of the kiln none.

    Parameters
    ----------
    firing : FiringRecord
        That they are put into.
    meant : dict
        The kiln that each trial is for, by its mark.

    Raises
    ------
    Questioned
        Names the trials of one kiln, and the kiln.
    """
    apart = {mark: kiln for mark, kiln in meant.items() if not same_name(kiln, firing.kiln)}
    if not apart:
        return
    kiln = next(iter(apart.values()))
    marks = [mark for mark, other in apart.items() if same_name(other, kiln)]
    are = "is a trial" if len(marks) == 1 else "are trials"
    raise Questioned(
        f"{some(marks)} {are} for {kiln}, and {firing.name} is in {firing.kiln}: fired there, "
        "'tiles why' could not tell what the one change did.",
        f"a firing in {kiln}, or --yes if it really is so.",
        field="firing",
        value=firing.name,
    )


def with_new_name(change: str | None, old: str, new: str) -> str | None:
    """What a trial changes, with the batch of the old name under its new one.

    Examples
    --------
    >>> with_new_name("batch May -> June; stirred", "may", "M")
    'batch M -> June; stirred'
    """
    told = _BUCKET_CHANGED.match(change or "")
    if not told or told[1] != "batch":
        return change
    before, after = (new if same_name(name.strip(), old) else name for name in told.groups()[1:])
    return f"batch {before} -> {after}{change[told.end() :]}"


def _is_from(batch: str, record: TileRecord) -> bool:
    return any(each.batch and same_name(each.batch.name, batch) for each in _tops(record))


def _tops(record: TileRecord) -> list[LayerRecord]:
    return [area.layers[-1] for area in record.areas if area.layers]


def _said(change: str | None, made: str) -> str:
    return (
        f"it is a trial of {change!r}, and {made} it shows nothing of that, but 'tiles why' would "
        "count it so."
    )


def _is_other(change: str | None, batch: BatchRecord) -> bool:
    """Whether a trial is of a bucket that this batch is not."""
    told = _BUCKET_CHANGED.match(change or "")
    if not told:
        return False
    what, after = told[1], told[3].strip()
    if what == "batch":
        return not same_name(after, batch.name)
    if what == "dry glaze mixed":
        return batch.dry_portion not in (None, after)
    return batch.specific_gravity is not None and f"{batch.specific_gravity:.3g}" != after
