"""``tiles rules``: the rule base itself, readable."""

from typing import Annotated

import typer

from tiles.cli import common, output
from tiles.errors import UnknownName

_STRENGTH = ((2.5, "decisively"), (1.75, "strongly"), (0.9, "fairly"), (0.0, "weakly"))


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("rules")(rules)


def rules(
    defect: Annotated[str | None, typer.Argument(help="One defect; without it, a list.")] = None,
    cause: Annotated[
        str | None, typer.Option(help="One cause alone, by its name in the list.")
    ] = None,
    as_json: common.AsJson = False,
) -> None:
    """Read the rules that 'tiles why' weighs: causes, signs, thresholds, and how firm each is.

    Shares beforehand and weights are estimates, never measured; each sign says where it comes from.
    """
    from tiles.records import words

    if defect is None:
        _list_defects(words.DEFECTS, as_json=as_json)
        return
    name = words.read_word(defect, words.DEFECTS, "defect")
    book = _book(name)
    causes = [each for each in book.causes if cause in (None, each.name)]
    if not causes:
        raise UnknownName(
            f"{name} has no cause named {cause!r}.",
            f"one of {', '.join(each.name for each in book.causes)}.",
            field="cause",
            value=cause,
        )
    if as_json:
        output.print_json(_shape(book, causes))
        return
    print("\n".join(_lines(book, causes)))


def _book(defect: str):
    from diagnose.rules import has_rules, load

    if not has_rules(defect):
        raise UnknownName(
            f"there are no rules for {defect} yet.", "'tiles rules' for those there are."
        )
    return load(defect)


def _list_defects(defects: tuple[str, ...], *, as_json: bool) -> None:
    from diagnose.rules import has_rules, load

    found = [
        {
            "defect": defect,
            "causes": len(load(defect).causes),
            "signs": sum(len(cause.signs) for cause in load(defect).causes),
        }
        for defect in defects
        if has_rules(defect)
    ]
    columns = {"defect": "defect", "causes": "causes", "signs": "signs"}
    output.rows(found, columns, as_json=as_json, as_csv=False, empty="No rules.")


def _lines(book, causes: list) -> list[str]:
    from tiles.cli.why_text import wrap

    told = [f"{book.defect.upper()}: {len(book.causes)} causes, the commonest first"]
    told += wrap(
        "Shares beforehand (of low-fire / mid-range cases) and weights are estimates. 'Fairly' is "
        "what makes a cause nearly three times as likely, 'strongly' seven times, 'decisively' "
        "twenty times."
    )
    for cause in sorted(causes, key=lambda each: -sum(each.prior.values())):
        told += ["", *_cause(cause)]
    return told


def _cause(cause) -> list[str]:
    from tiles.cli.why_text import labelled, wrap

    title = cause.title[:1].upper() + cause.title[1:]
    prior = " / ".join(f"{share:g} %" for share in cause.prior.values())
    kind = "" if cause.is_fault else "  NOT A FAULT"
    if cause.right_name:
        kind = f"  REALLY {cause.right_name.upper()}"
    told = wrap(f"{title}  [{cause.name}, beforehand {prior}]{kind}")
    told += labelled("how", cause.mechanism)
    for sign in cause.signs:
        told += _sign(sign)
    for label, texts in (
        ("looks like", cause.looks_like),
        ("to be sure", cause.confirm),
        ("fix", cause.fixes),
        ("caution", cause.cautions),
    ):
        for number, text in enumerate(texts):
            told += labelled(label if number == 0 else "", text)
    return [*told, *labelled("who", ", ".join(cause.who_can_act)), *labelled("basis", cause.basis)]


def _sign(sign) -> list[str]:
    from tiles.cli.why_text import labelled

    fact = _fact(sign.measure)
    only = _only(sign.only)
    firm = f"[{sign.tag}]" if sign.source == sign.tag else f"[{sign.tag}: {sign.source}]"
    told = []
    sides = (
        ("speaks for", sign.weight_for, sign.counts_if, sign.counts_from, sign.counts_fully),
        ("against", sign.weight_against, sign.against_if, sign.against_from, sign.against_fully),
    )
    for label, weight, words, start, full in sides:
        if weight:
            how = f"{_strength(weight)} ({weight:g})"
            what = _when(fact, sign.measure, words, start, full)
            told += labelled(label, f"{how}: {what}{only} {firm}".rstrip())
            firm = ""
    return told


def _fact(name: str) -> str:
    from diagnose.vocabulary import measure_words

    words = measure_words().get(name)
    return words.label if words else name


def _when(fact: str, name: str, words: tuple[str, ...], start, full) -> str:
    from diagnose.vocabulary import clue_said, measure_words
    from tiles.records.clues import clues

    if name in clues():
        return " or ".join(clue_said(name, word) for word in words)
    if words:
        return f"{fact}: {' or '.join(words)}"
    unit = measure_words()[name].unit
    if start == full:
        return f"{fact} from {full:g} {unit}".rstrip()
    way = "over" if full > start else "under"
    return f"{fact} {way} {start:g}, in full from {full:g} {unit}".rstrip()


def _only(only: dict) -> str:
    parts = []
    for key, words in only.items():
        name = key.removeprefix("not_")
        label = "firing range" if name == "setting" else _fact(name)
        are = "is not" if key.startswith("not_") else "is"
        parts.append(f"{label} {are} {' or '.join(words)}".replace("_", " "))
    return f" (only where {' and '.join(parts)})" if parts else ""


def _strength(weight: float) -> str:
    return next(word for least, word in _STRENGTH if weight >= least)


def _shape(book, causes: list) -> dict:
    from dataclasses import asdict

    return {
        "defect": book.defect,
        "other_prior_pct": book.other_prior,
        "causes": [asdict(each) | {"really": each.right_name or None} for each in causes],
    }
