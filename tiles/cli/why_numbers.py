"""``tiles why --arithmetic``: the numbers behind an answer, one line for each step."""

_WIDTHS = {"prior": 7, "ln": 7, "bonus": 7, "for": 7, "against": 9, "facts": 7, "own": 7,
           "log odds": 9, "exp": 9, "share": 8}  # fmt: skip
_COUNT_WIDTH = 3


def lines(diagnoses: list) -> list[str]:
    """The whole sum for each defect: priors, signs, log odds, shares."""
    from diagnose.arithmetic import arithmetic

    told = []
    for diagnosis in diagnoses:
        told += ["", *_sum(diagnosis.defect, arithmetic(diagnosis.case))]
    return told


def _sum(defect: str, numbers: dict) -> list[str]:
    from tiles.cli.why_text import hanging, wrap

    setting = numbers["setting"].replace("_", " ")
    which = f"priors for {setting}" if setting != "unknown" else "mean of low-fire and mid-range"
    told = wrap(f"ARITHMETIC OF {defect.upper()} ({which}; priors and weights are estimates)")
    for line in numbers["formula"]:
        told += hanging("   ", line)
    heads = "".join(f"{head:>{width}}" for head, width in _WIDTHS.items())
    told += ["", " " * _COUNT_WIDTH + heads]
    told += [_row(place, cause) for place, cause in enumerate(numbers["causes"], start=1)]
    told += [f"   sum of exp {numbers['sum_exp_log_odds']:.4f}"]
    for place, cause in enumerate(numbers["causes"], start=1):
        told += _cause(place, cause)
    return told


def _row(place: int, cause: dict) -> str:
    keys = ("ln_prior", "bonus", "for", "against", "expected", "own", "log_odds", "exp_log_odds")
    numbers = [f"{cause['prior']:.2%}", *(f"{cause[key]:.3f}" for key in keys)]
    numbers.append(f"{cause['share']:.2%}")
    cells = zip(numbers, _WIDTHS.values(), strict=True)
    return f"{place:>{_COUNT_WIDTH}}" + "".join(f"{number:>{width}}" for number, width in cells)


def _cause(place: int, cause: dict) -> list[str]:
    """The name that a number stands for, and its signs."""
    return [
        "",
        f"{place:>{_COUNT_WIDTH}}  {cause['name']}",
        *(line for sign in cause["signs"] for line in _sign(sign)),
        *(
            f"     facts    {fact} {log_odds:+.3f}"
            for fact, log_odds in cause["in_general"].items()
        ),
    ]


def _sign(sign: dict) -> list[str]:
    from tiles.cli.why_text import hanging

    value = sign["value"]
    shown = f"{value:g}" if isinstance(value, float | int) else value
    fact = f"{sign['measure']} = {shown} {sign['unit']}".rstrip()
    steps = f"{sign['weight']:g} x {sign['grade']:.3f} x {sign['trust']:g}"
    return hanging(f"     {sign['side']:<8} {steps} = {sign['counts']:.3f}   ", fact)
