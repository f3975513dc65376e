"""Steps that take the same glaze from another jar, bucket or batch; and a jar that is watery."""

from diagnose.colour_layer import judged
from diagnose.fixes.bench import Bench, Step
from diagnose.fixes.shapes import JAR, Change
from diagnose.fixes.steps_coat import DIPPED, dry_mm, is_likely_watery
from diagnose.view import View, spoken_coats
from tiles.chemistry.slip import BRUSHING_SG, DIPPING_SG, LEAST_COAT_MM, MOST_COAT_MM
from tiles.records.words import same_name

BATCH, NEW_JAR, REVIVED = "batch", "new_jar", "revived_jar"
"""The keys of the steps that take the glaze from another jar, on record or not, and the cause by
which one dried out."""
OTHER_JAR = (BATCH, NEW_JAR)


def other_batches(bench: Bench) -> list[Step]:
    """The same glaze from each other jar or batch on record; for a dried-out one, of fresh ones."""
    now = bench.view.batch
    others = [
        each.name
        for each in bench.batches
        if not same_name(each.name, now) and not (bench.cause == REVIVED and each.is_revived)
    ]
    return [
        Step(BATCH, "Another batch", [Change("batch", now, each)], edit={"batch": each})
        for each in others
    ]


def other_batch(bench: Bench) -> Step | None:
    """The newest of them."""
    return next(iter(other_batches(bench)), None)


def new_jar(bench: Bench) -> Step | None:
    """The same glaze from a jar that is not on record: beside it an old one shows what it lost."""
    if bench.top is None or other_batches(bench):
        return None
    is_mixed = bench.top.glaze.kind == "recipe"
    fresh = f"a {'newly mixed' if is_mixed else 'new'} one that never dried out"
    return Step(NEW_JAR, "A fresh jar", [Change(JAR, bench.view.batch, fresh)])


def watery_jar(view: View) -> str:
    """What to do where as many coats as are usual make less than a usual coat; else "".

    More coats would hide that the slop holds too much water.
    """
    top = view.top
    if top is None or judged(view).over or not is_likely_watery(top):
        return ""
    dipping, brushing = (f"{100 * each:.0f} g" for each in (DIPPING_SG, BRUSHING_SG))
    usual = f"{dipping} for dipping" if top.method in DIPPED else f"{brushing} for brushing"
    usual += "" if top.method else f", {dipping} for dipping"
    return (
        f"{spoken_coats(top.coats)} came to {dry_mm(top):g} mm (usual {LEAST_COAT_MM:g} to "
        f"{MOST_COAT_MM:g} mm): likely a watery glaze. Stir to the bottom, sieve and weigh 100 mL "
        f"({usual}). If it weighs less, let it settle and take off clear water."
    )
