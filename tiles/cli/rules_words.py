"""The signs of the rules in plain words."""

_COMPARED = {
    "rises_with_coat": ("the thick area", "the thin one"),
    "rises_with_texture": ("the textured area", "the smooth one"),
    "rises_over_colour": ("the area with colour beneath", "the one without"),
    "rises_in_overlap": ("the overlap", "either glaze alone"),
}
"""Two areas of one tile, set against each other on a scale from -1 to 1."""
_WORDS = {
    ("every_glaze_failed", "yes"): "another glaze on the same tile fails too",
    ("every_glaze_failed", "no"): "another glaze on the same tile is sound",
}
_LABELS = {
    "bisque_cones_below_04": "bisque cooler than cone 04 by",
    "bisque_minus_glaze_cones": "bisque hotter than the glaze firing by",
    "days_to_first_seen": "first seen after",
    "melt_stiffest_log10_pa_s": "how stiff the melt is at most",
    "melt_thinnest_log10_pa_s": "how stiff the melt is at least",
}
_UNITS = {"log10 Pa.s": "log10 Pa.s (3 is 1000 Pa.s, 4 is 10 000; more is stiffer)"}
LEGEND = (
    "Shares beforehand (of low-fire / mid-range cases) and weights are estimates. 'Fairly' makes a "
    "cause nearly three times as likely, 'strongly' seven times, 'decisively' twenty times. A sign "
    "begins to count at its first figure and counts in full at the second. 'A against B' is A less "
    "B."
)


def fact(name: str) -> str:
    """What a measure or clue tells, by name."""
    from diagnose.vocabulary import measure_words

    words = measure_words().get(name)
    return _LABELS.get(name) or (words.label if words else name)


def when(name: str, words: tuple[str, ...], start: float | None, full: float | None) -> str:
    """When a sign counts: the words that meet it, or from where to where the figure does."""
    from diagnose.vocabulary import clue_said
    from tiles.records.clues import clues

    if name in clues():
        return " or ".join(clue_said(name, word) for word in words)
    if words:
        said = [_WORDS.get((name, word)) for word in words]
        return " or ".join(said) if all(said) else f"{fact(name)}: {' or '.join(words)}"
    return _compared(name, start, full) if name in _COMPARED else _figure(name, start, full)


def _figure(name: str, start: float, full: float) -> str:
    from diagnose.vocabulary import measure_words

    unit = measure_words()[name].unit
    unit = _UNITS.get(unit, unit)
    if start == full:
        return f"{fact(name)}: {full:g} {unit} or more".replace("  ", " ")
    way = "more than" if full > start else "less than"
    return f"{fact(name)}: {way} {start:g}, in full from {full:g} {unit}".rstrip()


def _compared(name: str, start: float, full: float) -> str:
    more, less = _COMPARED[name]
    worse = "worse" if full > start else "no worse"
    way = "more than" if full > start else "less than"
    scale = f"{way} {start:g} on a scale of -1 to 1, in full from {full:g}"
    return f"on one tile {more} is {worse} than {less} ({scale})"


def only(conditions: dict) -> str:
    """Where alone a sign counts; empty where it counts anywhere."""
    parts = []
    for key, words in conditions.items():
        name = key.removeprefix("not_")
        label = "firing range" if name == "setting" else fact(name)
        are = "is not" if key.startswith("not_") else "is"
        parts.append(f"{label} {are} {' or '.join(words)}".replace("_", " "))
    return f" (only where {' and '.join(parts)})" if parts else ""
