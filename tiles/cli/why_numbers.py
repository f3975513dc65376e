"""``tiles why --arithmetic``: the numbers behind an answer, one line for each step."""

_NAME_WIDTH = 24


def lines(diagnoses: list) -> list[str]:
    """The whole sum for each defect: priors, signs, log odds, shares."""
    from diagnose.arithmetic import arithmetic

    told = []
    for diagnosis in diagnoses:
        if diagnosis.case is None:
            told += ["", f"{diagnosis.defect.upper()}: no rules, so no arithmetic."]
            continue
        told += ["", *_sum(diagnosis.defect, arithmetic(diagnosis.case))]
    return told


def _sum(defect: str, numbers: dict) -> list[str]:
    setting = numbers["setting"].replace("_", " ")
    which = f"priors for {setting}" if setting != "unknown" else "mean of low-fire and mid-range"
    told = [f"ARITHMETIC OF {defect.upper()} ({which}; priors and weights are estimates)"]
    told += [f"   {line}" for line in numbers["formula"]]
    heads = ("prior", "ln", "bonus", "for", "against", "own", "log odds", "exp", "share")
    told += ["", f"{'cause':<{_NAME_WIDTH}}" + "".join(f"{head:>9}" for head in heads)]
    told += [_row(cause) for cause in numbers["causes"]]
    told += [f"sum of exp {numbers['sum_exp_log_odds']:.4f}", ""]
    for cause in numbers["causes"]:
        told += [_sign(cause["name"], sign) for sign in cause["signs"]]
    return told


def _row(cause: dict) -> str:
    keys = ("ln_prior", "bonus", "for", "against", "own", "log_odds", "exp_log_odds")
    numbers = "".join(f"{cause[key]:>9.3f}" for key in keys)
    prior = f"{cause['prior']:.2%}"
    return f"{cause['name']:<{_NAME_WIDTH}}{prior:>9}{numbers}{cause['share']:>9.2%}"


def _sign(name: str, sign: dict) -> str:
    value = sign["value"]
    shown = f"{value:g}" if isinstance(value, float | int) else value
    fact = f"{sign['measure']} = {shown} {sign['unit']}".rstrip()
    steps = f"{sign['weight']:g} x {sign['grade']:.3f} x {sign['trust']:g}"
    return f"{name:<{_NAME_WIDTH}}{sign['side']:<8} {steps} = {sign['counts']:.3f}   {fact}"
