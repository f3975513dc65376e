"""``tiles rules``: the rule base itself, readable."""

import re
from typing import Annotated

import typer

from tiles.cli import common, output
from tiles.errors import InvalidValue, UnknownName, shell_word

_STRENGTH = ((2.5, "decisively"), (1.75, "strongly"), (0.9, "fairly"), (0.0, "weakly"))


def add_to(app: typer.Typer) -> None:
    """Add the command."""
    app.command("rules")(rules)


def rules(
    defect: Annotated[str | None, typer.Argument(help="One defect; without it, a list.")] = None,
    cause: Annotated[
        str | None, typer.Option(help="One cause in full: its number, or words of its title.")
    ] = None,
    show_all: Annotated[bool, typer.Option("--all", help="Every cause in full.")] = False,
    as_json: common.AsJson = False,
) -> None:
    """Read the rules that 'tiles why' weighs: causes, signs, thresholds, and how firm each is.

    Shares beforehand and weights are estimates, never measured; each sign says where it comes from.
    """
    from diagnose.rules import load
    from tiles.records import words

    if defect is None:
        _refuse_causes_of_none(cause, show_all=show_all)
        _list_defects(words.DEFECTS, as_json=as_json)
        return
    book = load(words.read_word(defect, words.DEFECTS, "defect"))
    chosen = _chosen(book, cause)
    if as_json:
        wanted = [each for each in book.causes if each in chosen]
        output.print_json(_shape(book, wanted))
    elif cause is None and not show_all:
        print("\n".join(_summary(book)))
    else:
        print("\n".join(_lines(book, chosen)))


def _refuse_causes_of_none(cause: str | None, *, show_all: bool) -> None:
    if cause is None and not show_all:
        return
    option, value = ("--all", "") if cause is None else ("--cause", f" {shell_word(cause)}")
    raise InvalidValue(
        f"{option} without a defect.",
        f"tiles rules crawling {option}{value}; 'tiles rules' lists the defects.",
        field="defect",
    )


def _in_order(book) -> list:
    """The causes as they are numbered: the commonest first."""
    return sorted(book.causes, key=lambda each: -sum(each.prior.values()))


def _chosen(book, cause: str | None) -> list:
    """The one cause asked for, or all, as they are numbered."""
    causes = _in_order(book)
    if cause is None:
        return causes
    asked = cause.strip().casefold()
    numbered = {str(number): each for number, each in enumerate(causes, start=1)}
    exact = [
        each
        for number, each in numbered.items()
        if asked in (number, each.title.casefold(), each.name, each.name.replace("_", " "))
    ]
    holds = re.compile(rf"\b{re.escape(asked)}").search
    found = exact or [each for each in causes if asked and holds(each.title.casefold())]
    if len(found) == 1:
        return found
    said, hint = f"{book.defect} has no cause {cause!r}.", f"a number from 1 to {len(causes)}"
    if found:
        said = f"{len(found)} causes of {book.defect} name {cause!r}."
        hint = " or ".join(number for number, each in numbered.items() if each in found)
    listed = f"{hint}; tiles rules {shell_word(book.defect)} lists them."
    raise UnknownName(said, listed, field="cause", value=cause)


def _list_defects(defects: tuple[str, ...], *, as_json: bool) -> None:
    from diagnose.rules import load

    found = [
        {
            "defect": defect,
            "causes": len(load(defect).causes),
            "signs": sum(
                not each.names_another for cause in load(defect).causes for each in cause.signs
            ),
        }
        for defect in defects
    ]
    columns = {"defect": "defect", "causes": "causes", "signs": "signs"}
    output.rows(found, columns, as_json=as_json, as_csv=False, empty="No rules.")


def _summary(book) -> list[str]:
    """A line for each cause, or more on a narrow screen: it leads to the rest."""
    from tiles.cli.why_text import capital, hanging, wrap

    head = f"{book.defect.upper()}: the causes of 100 cases at low fire / mid range (estimates)"
    told = wrap(head)
    for number, cause in enumerate(_in_order(book), start=1):
        shares = f"{cause.prior['low_fire']:>4g} / {cause.prior['mid_range']:<4g}"
        told += hanging(f"{number:>2}  {shares}  ", capital(cause.title))
    asked = shell_word(book.defect)
    return [*told, *wrap(f"One in full: tiles rules {asked} --cause 1    All of them: --all")]


def _lines(book, causes: list) -> list[str]:
    from tiles.cli.rules_words import LEGEND
    from tiles.cli.why_text import wrap

    numbers = {each.name: number for number, each in enumerate(_in_order(book), start=1)}
    told = [f"{book.defect.upper()}: {len(book.causes)} causes, the commonest first"]
    told += wrap(LEGEND)
    for cause in causes:
        told += ["", *_cause(numbers[cause.name], cause)]
    return told


def _cause(number: int, cause) -> list[str]:
    from tiles.cli.why_text import capital, hanging, labelled

    prior = " / ".join(f"{share:g} %" for share in cause.prior.values())
    kind = "" if cause.is_fault else "  NOT A FAULT"
    if cause.right_name:
        kind = f"  REALLY {cause.right_name.upper()}"
    head = f"{capital(cause.title)}  [{cause.name}, beforehand {prior}]{kind}"
    told = hanging(f"{number}. ", head)
    told += labelled("how", cause.mechanism)
    for sign in cause.signs:
        told += [] if sign.names_another else _sign(sign)
    named = [sign.weight_against for sign in cause.signs if sign.names_another]
    if named:
        how = f"{_strength(named[0])} ({named[0]:g})"
        told += labelled("against", f"{how}: a note that names another fault of this list alone")
    for label, texts in (
        ("looks like", cause.looks_like),
        ("to be sure", _said(cause.confirm)),
        ("fix", _said(cause.fixes)),
        ("caution", cause.cautions),
    ):
        for at, text in enumerate(texts):
            told += labelled("" if at else label, text)
    return [*told, *labelled("who", ", ".join(cause.who_can_act)), *labelled("basis", cause.basis)]


def _sign(sign) -> list[str]:
    from tiles.cli.rules_words import only, when
    from tiles.cli.why_text import labelled

    where = only(sign.only)
    firm = f"[{sign.tag}]" if sign.source == sign.tag else f"[{sign.tag}: {sign.source}]"
    told = []
    sides = (
        ("speaks for", sign.weight_for, sign.counts_if, sign.counts_from, sign.counts_fully),
        ("against", sign.weight_against, sign.against_if, sign.against_from, sign.against_fully),
    )
    for label, weight, words, start, full in sides:
        if weight:
            how = f"{_strength(weight)} ({weight:g})"
            what = when(sign.measure, words, start, full)
            told += labelled(label, f"{how}: {what}{where} {firm}".rstrip())
            firm = ""
    return told


def _strength(weight: float) -> str:
    return next(word for least, word in _STRENGTH if weight >= least)


def _shape(book, causes: list) -> dict:
    from dataclasses import asdict

    return {
        "defect": book.defect,
        "other_prior_pct": book.other_prior,
        "causes": [
            asdict(each)
            | {"confirm": _said(each.confirm), "fixes": _said(each.fixes)}
            | {"really": each.right_name or None}
            for each in causes
        ],
    }


def _said(advice) -> list[str]:
    return [each.say for each in advice]
