"""How the facts that set tiles apart are said, and their opposites."""

from diagnose.comparing.factors import BARE_CLAY
from diagnose.own_tiles.layer import ABOVE, COATS_ABOVE, PAIR, TOGETHER
from diagnose.view import NOTHING
from diagnose.vocabulary import label_of, unit_of
from tiles.chemistry.cones import cone_at, step
from tiles.chemistry.melt import word as melt_word

_SHORT = {
    "thickness_mm": "a dry coat of",
    "fired_thickness_mm": "a fired coat of",
    "rate_c_per_h": "a rise near the top of",
    "bisque_rate_c_per_h": "a rise of the bisque near its top of",
    "peak_c": "a peak of",
    "opened_c": "the kiln opened at",
    "hold_min": "a hold of",
    "absorption_pct": "a body that takes up",
    "specific_gravity": "a specific gravity of",
}
_WORDS = {
    "body_kind": ("on {}", "on another kind of body"),
    "body_colour": ("on a {} body", "on a body of another colour"),
    "firing_band": ("fired at {}", "fired elsewhere on the cone scale"),
    "form": ("with {} tiles", "with another form"),
    "dry_portion": ("mixed from {}", "mixed from another part"),
    "atmosphere": ("fired in {}", "fired in another atmosphere"),
    "stood": ("fired {}", "fired standing in another way"),
    "applied_on": ("put on {}", "put on something else"),
    "beneath": ("over a {} layer", "over a layer in another state"),
    "colour_applied_on": ("over a colour put on {}", "over a colour put on something else"),
    "slip_applied_on": ("over a slip put on {}", "over a slip put on something else"),
    "surface": ("on a {} surface", "on another surface"),
    "method": ("put on by {}", "put on in another way"),
    "colour_beneath": ("over {}", "over other colours or none"),
}
"""How a word of a measure is said, and any other."""
_CONES = {
    "bisque_minus_glaze_cones": ("a bisque", "the glaze firing", "as hot as the glaze firing", 1),
    "cones_over_target": ("a firing", "its target", "at its target", 1),
    "cones_over_label": ("a firing", "the label", "within the label", 1),
    "cones_from_label_middle": ("a firing", "the label's middle", "in the label's middle", 1),
    "cones_over_body": ("a firing", "the clay's range", "within the clay's range", 1),
    "set_over_label": ("a kiln set", "the label", "within the label", 1),
    "set_over_body": ("a kiln set", "the clay's range", "within the clay's range", 1),
    "cones_below_other_shelves": ("a place", "the other shelves", "as hot as other shelves", -1),
}
"""Measures in cones: what, against what, how none is said, and 1 where more cones are hotter."""
GAPS = tuple(_CONES)
"""Worked out of two cones: where one of these parts tiles as well, that is the plainer fact."""

_COMPANY = {
    ABOVE: ("with nothing over it", "with a layer over it", "under {}",
            "under another layer or none"),
    TOGETHER: ("with no other layer", "with another layer over or under it",
               "together with {}, over or under it", "with another layer or none"),
    PAIR: ("with one layer alone", "with several layers", "with {} on one area, in either order",
           "with other layers"),
}  # fmt: skip
"""How one layer alone is said and any with others; then such a layer, and any other."""
ANOTHER = "with another "
"""How the opposite of a name begins."""
_MELTS = {"melt_thinnest_log10_pa_s": "thinnest", "melt_stiffest_log10_pa_s": "stiffest"}
"""Ends of the range of a melt: the word a potter has for it goes before the number."""
_SAID_WHOLE = (
    "bisque_cones_below_04", "colour_coats_beneath", COATS_ABOVE, "cone_reached", *_MELTS,
)  # fmt: skip


def word_said(name: str, word: str) -> tuple[str, str]:
    """A word of a fact, and any other."""
    if name == "under":
        return _over(word)
    if name in _COMPANY:
        alone, others, said, otherwise = _COMPANY[name]
        return (alone, others) if word == NOTHING else (said.format(word), otherwise)
    if name in _WORDS:
        said, otherwise = _WORDS[name]
        return said.format(word), otherwise
    label = label_of(name)
    return f"with {label} {word}", f"{ANOTHER}{label}"


def _over(below: str) -> tuple[str, str]:
    """What lies under the glaze, and anything else."""
    if below == BARE_CLAY:
        return f"on {below}", "over another layer"
    return f"over {below}", f"over another layer or {BARE_CLAY}"


def from_and_to(name: str, low: float, high: float) -> tuple[str, str]:
    """A number and all above it, and the next lower one and all below it."""
    if name == "bisque_cones_below_04":
        cooler, hotter = (cone_at(step("04") - below) for below in (high, low))
        return f"a bisque at cone {cooler} or cooler", f"a bisque at cone {hotter} or hotter"
    if name == "cone_reached":
        reached = "a firing that reached cone"
        return f"{reached} {cone_at(high)} or hotter", f"{reached} {cone_at(low)} or cooler"
    if name in _CONES:
        is_hotter = _CONES[name][3] > 0
        return _cones(name, high, is_hotter), _cones(name, low, not is_hotter)
    if name in _MELTS:
        return f"{_melt(name, high)} or stiffer", f"{_melt(name, low)} or more fluid"
    if name == "coats":
        return f"{high:g} or more", "1 coat" if low == 1 else f"{_amount(low, 'coats')} or fewer"
    if name == "colour_coats_beneath":
        more = "colour" if high == 1 else f"{_amount(high, 'coats')} or more of colour"
        fewer = _or_fewer(low, " of colour") if low else "no colour"
        return f"{more} under the glaze", f"{fewer} under the glaze"
    if name == COATS_ABOVE:
        fewer = f"{_or_fewer(low)} over it" if low else "no coat over it"
        return f"{_amount(high, 'coats')} or more over it", fewer
    unit = unit_of(name)
    return f"{_amount(high, unit)} or more", f"{_number_of(name)} {_amount(low, unit)} or less"


def in_full(name: str, said: str, high: float) -> str:
    """The upper side of a number by itself, with what it is a number of."""
    if name == "coats":
        return f"{_amount(high, 'coats')} or more"
    is_whole = name in _CONES or name in _SAID_WHOLE
    return said if is_whole else f"{_number_of(name)} {said}"


def _melt(name: str, value: float) -> str:
    """A melt as a potter calls it: "a melt that at its thinnest is runny (1.9 log10 Pa.s)"."""
    number = _amount(value, unit_of(name))
    return f"a melt that at its {_MELTS[name]} is {melt_word(value)} ({number})"


def _amount(value: float, unit: str) -> str:
    """A number with its unit: "1 coat", "0.7 mm"."""
    return f"{value:g} {unit.removesuffix('s') if value == 1 else unit}".strip()


def _or_fewer(coats: float, of: str = "") -> str:
    """So many coats at most, where there may be none at all: "2 coats or fewer of colour"."""
    return f"1 coat{of} or none" if coats == 1 else f"{_amount(coats, 'coats')} or fewer{of}"


def _cones(name: str, value: float, is_hotter: bool) -> str:
    """A number of cones and all beyond it, hotter or cooler."""
    what, than, none, sign = _CONES[name]
    hot = sign * value
    if hot == 0:
        return f"{what} {none} or {'hotter' if is_hotter else 'cooler'}"
    many = f"{abs(hot):g} cone{'' if abs(hot) == 1 else 's'}"
    # Beyond 2 cones hotter lies hotter still; on the other side lie all that are less hot.
    many = f"{many} or more" if (hot > 0) is is_hotter else f"at most {many}"
    return f"{what} {many} {'hotter' if hot > 0 else 'cooler'} than {than}"


def _number_of(name: str) -> str:
    return _SHORT.get(name) or f"{label_of(name)} at"
