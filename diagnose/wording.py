"""The sentences of an answer: short, plain, with the tile's own figures."""

from typing import TYPE_CHECKING

from diagnose.vocabulary import how_to_get

if TYPE_CHECKING:
    from diagnose.weighing import Argument, Weighed

HAPPENED = {
    "crazing": "why it crazed",
    "crawling": "why it crawled",
    "pinholes": "why it has pinholes",
    "running": "why it ran",
}


def argument(each: "Argument") -> str:
    """One piece of evidence: "Coat 1.6 mm dry, as applied, usual 0.5 to 1.0 mm."."""
    usual = f", usual {each.sign.usual}" if each.sign.usual else ""
    because = f": {each.sign.because}" if each.sign.because else ""
    return sentence(f"{each.measure.said}{usual}{because}")


# A fix may begin with whom it is for; it is then left out where it does not apply.
_FOR_KIND = {"Own recipe: ": "recipe", "Jar: ": "jar"}
_FOR_SETTING = {"Low fire: ": "low_fire", "Mid range: ": "mid_range"}


def fixes(texts: tuple[str, ...], glaze_kind: str | None, setting: str) -> list[str]:
    """The fixes that fit: a jar's recipe cannot be changed, and low fire is not mid range."""
    facts = ((_FOR_KIND, glaze_kind), (_FOR_SETTING, None if setting == "unknown" else setting))
    kept = []
    for text in texts:
        for prefixes, fact in facts:
            prefix = next((each for each in prefixes if text.startswith(each)), None)
            if prefix is None or fact is None:
                continue
            text = sentence(text.removeprefix(prefix)) if prefixes[prefix] == fact else ""
        if text:
            kept.append(text)
    return kept


def missing(name: str) -> str:
    """One thing not recorded and how to get it."""
    text = how_to_get(name)
    return text if text.endswith("?") else sentence(text)


def lead(defect: str, first: "Weighed") -> str:
    """The answer in one line."""
    if not first.cause.is_fault:
        return sentence(f"not a fault: {first.cause.title}")
    sure = "almost certainly" if first.share >= 0.85 else "most likely"
    if first.share < 0.6:
        sure = "best guess"
    answer = sentence(f"{sure} (about {in_ten(first.share)}): {first.cause.title}")
    return " ".join([answer, *[argument(each) for each in first.for_[:1]]])


def not_enough(defect: str, first: "Weighed", names: list[str]) -> str:
    """The line said first when the record does not tell, with what would help."""
    start = f"Not enough recorded to tell {HAPPENED.get(defect, f'what caused {defect}')}."
    if first.cause is not None and first.support > 0:
        start += f" First suspect (about {in_ten(first.share)}): {first.cause.title}."
    if not names:
        return f"{start} Fire a test tile and change one thing at a time."
    return " ".join([start, "To find out:", *[missing(name) for name in names]])


def no_rules(defect: str) -> str:
    """What is said of a defect that has no cause file."""
    return (
        f"There are no rules for {defect} yet, so its cause cannot be told. "
        "It is on record and can be found with the other tiles that show it."
    )


def in_ten(share: float) -> str:
    """A share in words, no finer than it is known: "7 in 10"."""
    return f"{min(9, max(1, round(10 * share)))} in 10"


def sentence(text: str) -> str:
    """Capital letter and full stop."""
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?")) else text + "."
