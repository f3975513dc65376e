"""What common practice expects of an outcome beyond the rules, in log-odds.

The rules are written to tell causes apart once a fault is there. Some facts make a fault likelier
whatever its cause: how far through its label range a glaze went, how much it shrinks, how fluid it
is, whether the tile stood up. They enter as plain measures, with a prior mean each, and as words.

Which facts were missing, and which count for too much, was seen on simulated studios whose
mechanisms come from trade references. The figures are round estimates from common practice and the
mechanics named beside them; none is a fitted coefficient.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np

    from diagnose.learning.blanks import Drawn

LABEL, EXPANSION, BODY, MELT, DAYS = (
    f"plain:{name}"
    for name in (
        "cones_from_label_middle",
        "glaze_expansion_ppm_per_k",
        "body_expansion_ppm_per_k",
        "melt_log10_pa_s",
        "log10_days_looked",
    )
)

PLAIN: dict[str, dict[str, tuple[float, float]]] = {
    # Half a label range cooler or hotter: less or more melted, though still as the label says. The
    # rules count the cones outside the range.
    LABEL: {
        "underfired": (-0.2, 0.2),
        "unwanted matt": (-0.2, 0.2),
        "cloudiness": (-0.15, 0.2),
        "running": (0.35, 0.2),
        "blisters": (0.2, 0.2),
        "colour shift": (0.2, 0.2),
        "pinholes": (0.0, 0.2),
        "metal marking": (-0.2, 0.2),
    },
    # 1e-6/K is about 45 MPa in the glaze; glazes and bodies differ from what is worked out by
    # about as much again, which halves the step that the stress alone would make, and the rules
    # count silica and alkali besides.
    EXPANSION: {"crazing": (0.5, 0.4), "shivering": (-0.6, 0.4)},
    BODY: {"crazing": (-0.5, 0.3), "shivering": (0.4, 0.3)},
    # Flow down a wall goes with the reciprocal of the viscosity; holes heal in a fluid melt, which
    # boils sooner.
    MELT: {
        "running": (-0.6, 0.3),
        "underfired": (0.3, 0.3),
        "pinholes": (0.1, 0.2),
        "blisters": (-0.15, 0.2),
        "unwanted matt": (0.15, 0.2),
    },
    # Delayed crazing comes with the logarithm of time, as moisture expansion does. Held tightly: a
    # tile is often looked at again because it crazed, so the days of own tiles say too much.
    DAYS: {"crazing": (0.3, 0.05)},
}
SAID = {
    LABEL: "how far through its label range a glaze was fired",
    EXPANSION: "the expansion of the glaze",
    BODY: "the expansion of the clay",
    MELT: "how stiff the melt is at that cone",
    DAYS: "the time until the tile was looked at",
}
"""What each plain measure is, for a reader."""
WORDS: dict[str, dict[str, tuple[float, float]]] = {
    # A run needs a slope.
    "word:stood=flat": {"running": (-1.0, 0.4)},
    "word:stood=upright": {"running": (0.5, 0.3)},
    # Only a clear glaze can be cloudy.
    "word:finish=clear": {"cloudiness": (0.4, 0.3)},
    # A gloss is the more fluid melt.
    "word:finish=gloss": {"cloudiness": (-0.7, 0.3), "running": (0.25, 0.2)},
    # A maker mills and sieves the jar; a batch of one's own is as fine as its last sieve.
    "word:glaze_kind=recipe": {"specks": (0.2, 0.2)},
    # What was seen before the fire is nearer to the fault than any habit.
    "word:raw_coat_cracked=yes": {"crawling": (0.5, 0.3)},
    "word:raw_coat_cracked=no": {"crawling": (-0.3, 0.3)},
    "word:bisque_greasy=yes": {"crawling": (0.4, 0.3)},
    "word:raw_coat_pitted=yes": {"pinholes": (0.3, 0.2)},
    "word:surface=textured": {"pinholes": (0.3, 0.2)},
    # Low-fire clay stays porous and takes up damp, whatever glaze is on it.
    "word:washed_or_soaked=yes": {"crazing": (0.4, 0.3)},
    "word:body_kind=earthenware": {"crazing": (0.2, 0.3)},
    # Iron-bearing clay shows through a glaze, gives off gas until late in the firing, and carries
    # specks; lime in a red clay makes a clear milky. White low-fire clay is mostly talc, which
    # shrinks more on cooling and holds a glaze tight (7.5 to 9.5 against 5.5 to 7 ppm/K).
    **{
        f"word:body_colour={colour}": {
            "colour shift": (0.4, 0.2),
            "pinholes": (0.25, 0.2),
            "specks": (0.3, 0.2),
            "cloudiness": (0.25, 0.2),
            "blisters": (0.2, 0.2),
            "crazing": (0.15, 0.2),
        }
        for colour in ("red", "brown", "black", "dark", "terracotta")
    },
    "word:body_colour=white": {
        "colour shift": (-0.2, 0.2),
        "pinholes": (-0.2, 0.2),
        "specks": (-0.2, 0.2),
        "cloudiness": (-0.1, 0.2),
        "blisters": (-0.1, 0.2),
        "crazing": (-0.4, 0.2),
    },
}
"""What a recorded word makes likelier or less likely, beyond the rules (common practice, round
estimates)."""
BY_MEANING = {"unwanted matt": -0.15, "cloudiness": -0.3, "crazing": 0.4}
"""A glaze meant to be matt cannot be unwantedly so, nor one that is not clear be cloudy; a crackle
glaze crazes. With other defects the studio shows whether a wanted look gets written down."""
TOLD = {
    "unwanted matt": 0.6,
    "specks": 0.5,
    "colour shift": 0.7,
    "crazing": 1.2,
    "underfired": 1.1,
}
"""How much the rules count for a defect, against others. Some are written down by taste: a rule
that says how a look comes about says less of whether its owner minds. A net of cracks and a dry,
rough skin are no matter of taste (estimates, round; the simulated studios asked for them)."""
REACH = 2.5
"""Units on either side of the middle that count at most."""


def prior(column: str, defect: str) -> tuple[float, float] | None:
    """Prior mean and sd of a column for a defect; None where nothing is believed."""
    return (PLAIN | WORDS).get(column, {}).get(defect)


def is_plain(column: str) -> bool:
    """Whether a column is a plain measure, which counts within ``REACH`` of the middle only."""
    return column in PLAIN


def columns(drawn: "Drawn") -> "dict[str, np.ndarray]":
    """The plain measures, averaged over the draws; NaN where not known. shape (n,) each."""
    import warnings

    import numpy as np

    blank = np.full((1, drawn.n), np.nan)

    def number(name: str) -> "np.ndarray":
        return drawn.numbers.get(name, blank)

    found = {
        EXPANSION: number("glaze_expansion_ppm_per_k"),
        BODY: number("body_expansion_ppm_per_k"),
        MELT: (number("melt_stiffest_log10_pa_s") + number("melt_thinnest_log10_pa_s")) / 2,
        LABEL: number("cones_from_label_middle"),
        DAYS: np.log10(1 + number("days_looked").clip(0)),
    }
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # a column that nobody recorded
        return {name: np.nanmean(values, axis=0) for name, values in found.items()}
