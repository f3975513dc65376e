"""What ``tiles fix`` and ``tiles next`` say of a load that failed as a whole: one step for all."""

from tiles.cli.next_text import AGAIN, meaning
from tiles.cli.prose import wrap

ALONE = "made exactly alike, in the next ordinary load, with a witness cone beside it"
FIRST = "before any glaze or coat is changed"
LATER = "Only if it comes again, one change on each tile:"
INDENT = "   "


def suspect(load, above: str = "") -> str:
    """That the load comes first, with its counts; and how the like of its tiles did elsewhere.

    Counts that stand ``above`` are not told again.
    """
    told = [] if load.say.removesuffix(".") in above else [load.say]
    if load.leads:
        first = "it was the load" if load.is_over else "first suspect the load"
        told += [f"So {first}, not how this tile is made.", load.elsewhere]
    elif load.is_make:
        told += ["But it was not the load alone.", load.elsewhere]
    return " ".join(filter(None, told))


def beside_make(answer) -> list[str]:
    """How the load of a tile did where another cause goes before it; or what else is so of all."""
    if answer.load is None:
        return wrap(answer.all_glazes)
    return [] if answer.is_of_load else wrap(suspect(answer.load, answer.say))


def step(load, before: str = FIRST) -> str:
    """What to do where no tile is left to plan: a control waits, or what went since has told it."""
    if load.is_over:
        return "change no glaze or coat for it, and fire no tile."
    waits, it = " and ".join(load.waiting), "them" if len(load.waiting) > 1 else "it"
    return (
        f"{waits} (on record already), as a tile of {load.firing} was made: fire {it} in the next "
        f"ordinary load, with a witness cone beside, and look at {it} {before}."
    )


def serves(load) -> str:
    """That a sound one tells it for all of the load; "" where a control for it failed before."""
    many = len(load.marks)
    tells_all = many > 1 and not any(each.failed for each in load.controls)
    return f"Sound, it tells it for all {many} tiles of {load.firing} at once." if tells_all else ""


def outcomes(load) -> list[str]:
    """What either outcome of the control would mean."""
    again, now = AGAIN.get(load.defect, "fails again"), list(load.now)
    sound = "comes out sound"
    sound += " and is still so after a month" if load.defect == "crazing" else ""
    make = f"it is the make, or what was wrong in {load.firing} is there still"
    failed = f"If it {again}, {make}: {meaning(list(load.if_again), now)}."
    was = f"it was load {load.firing}: {meaning(list(load.if_sound), now)}."
    return [failed, f"If it {sound}, {was}"]


def meanwhile(load) -> str:
    """What to look at until a control is fired, or to find out what was wrong."""
    from diagnose.wording import sentence

    start = sentence(load.look_at) if load.is_over else f"Meanwhile {load.look_at}"
    return f"{start} {load.advice}".rstrip()


def control_for(answer, marked: list):
    """The control of a load, of the tiles to fire; None where there is none."""
    controls = [each for each in marked if each.trial.is_control]
    own = [each for each in controls if each.defect == answer.defect]
    return next(iter(own or (controls if answer.trials else [])), None)


def load_first(
    answer, marked: list, above: str, what_for: str = "", *, in_short: bool = False
) -> list[str]:
    """What to do before all else where a whole load failed, and what its outcome would mean.

    Counts that stand ``above`` are not told again; ``in_short`` without what it does to causes.
    """
    load, tile = answer.load, control_for(answer, marked)
    before = f"{FIRST} for it" if what_for else FIRST
    which = f"{tile.mark} (the control), {ALONE}, {before}." if tile else step(load, before)
    means = [f"If it comes out sound, it was load {load.firing}."] if in_short else outcomes(load)
    told = [" ".join([*means, serves(load)])] if tile else []
    lines = [*wrap(suspect(load, above)), *wrap(f"TRY FIRST{what_for}: {which}")]
    told = (wrap(INDENT + text, INDENT) for text in (*told, meanwhile(load)))
    return [*lines, *(line for of in told for line in of)]
