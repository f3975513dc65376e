"""Which way the curves point, against pages of the trade; sizes have no source and are not tested.

Each line: the defect, a measure, the words it holds under, a value, and a value that the page calls
worse; then the page, read on 2026-11-25.
"""

import pytest

from diagnose.curves import curves

READ = [
    ("pinholes", "bisque_minus_glaze_cones", {"firing_band": "low fire"}, 2, -1,
     "theolefarmhouse.com ceramic bisque; potterykilnsaustralia.com.au firing tips"),
    ("blisters", "bisque_minus_glaze_cones", {"firing_band": "low fire"}, 2, -1,
     "theolefarmhouse.com ceramic bisque; experts123.com ceramic studio problems"),
    ("pinholes", "raw_coat_pitted", {}, "no", "yes", "J. Buchanan, glazestuff.wordpress.com"),
    ("pinholes", "surface", {}, "smooth", "textured",
     "L. Arbuckle, majolica and lowfire handout"),
    ("pinholes", "bisque_dusty", {}, "no", "yes", "potterykilnsaustralia.com.au firing tips"),
    ("pinholes", "bisque_packed_airless", {}, "no", "yes", "T. Thornton, tim-thornton.com"),
    ("crawling", "raw_coat_cracked", {}, "no", "yes", "J. Buchanan, glazestuff.wordpress.com"),
    ("crawling", "bisque_greasy", {}, "no", "yes",
     "J. Buchanan, glazestuff.wordpress.com; walkerceramics.com.au brush-on glaze instructions"),
    ("crawling", "coats_left_powder_dry", {}, "no", "yes",
     "walkerceramics.com.au brush-on glaze instructions"),
    ("crawling", "applied_on", {}, "bisque", "fired glaze", "ceramicstoday.com articles 121000"),
    ("crawling", "form", {}, "flat", "angle", "L. Arbuckle, majolica and lowfire handout"),
    ("crazing", "body_for_thermal_shock", {}, "no", "yes",
     "Roy and Masta, potters.org subject80670"),
    ("crazing", "absorption_pct", {"firing_band": "mid range"}, 1, 12,
     "J. Zamek, Eight steps to stop crazing (1995)"),
    ("underfired", "silica_boron_to_alumina", {}, 8, 3.5,
     "T. Buck citing Carty, potters.org subject99690; H. McWhinnie, subject31225"),
    ("specks", "sieve_mesh", {"glaze_kind": "recipe"}, 100, 40,
     "D. Finkelnburg, potters.org subject118084"),
    ("specks", "jar_half_dry", {}, "no", "yes", "K. Chase, lists.clayartworld.com 2020-02 23902"),
    ("specks", "colour_stirred_in_dry", {}, "no", "yes",
     "D. Finkelnburg, potters.org subject118084"),
    ("colour shift", "over_stain_limit", {}, "no", "yes", "walkerceramics.com.au stain chart"),
    ("colour shift", "glaze_kiln_unvented", {"label_sensitive_red": "yes"}, "no", "yes",
     "ceramics.lifetips.com, firing reds (2007)"),
    ("colour shift", "chrome_in_load", {"holds_tin": "yes"}, "no", "yes",
     "potclays.co.uk, tin white with a pink tinge"),
    ("cloudiness", "body_colour", {"finish": "clear", "firing_band": "low fire"}, "white", "red",
     "potclays.co.uk, transparent glaze milky"),
    ("metal marking", "finish", {}, "gloss", "matt",
     "L. Bloomfield, ceramicartsnetwork.org, metal marking on functional ware"),
]  # fmt: skip


def _said(defect: str, measure: str, words: dict, value) -> float:
    """Log-odds of one value where the other words stand, as the lines of the file add up."""
    import numpy as np

    total = 0.0
    for curve in curves(defect):
        holds = all(words.get(name) in among for name, among in curve.only)
        if curve.measure == measure and holds:
            points = dict(curve.points)
            is_word = isinstance(value, str)
            total += (
                points.get(value, 0.0)
                if is_word
                else np.interp(value, list(points), list(points.values()))
            )
    return total


@pytest.mark.parametrize(
    ("defect", "measure", "words", "good", "bad", "page"),
    READ,
    ids=lambda each: each if isinstance(each, str) else None,
)
def test_the_value_that_the_page_calls_worse_makes_the_fault_likelier(
    defect, measure, words, good, bad, page
):
    rise = _said(defect, measure, words, bad) - _said(defect, measure, words, good)
    assert rise > 0.1, f"{measure} {good} to {bad} changes the log-odds by {rise:.2f}; {page}"
