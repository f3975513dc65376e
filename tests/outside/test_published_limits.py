"""Published ranges against the examples and statements of their own authors."""

import pytest

from tiles.chemistry import limits


def place(unity, cone, author, quantity, finish=""):
    found = limits.against_published(unity, cone)
    return next(
        each.place
        for each in found
        if each.author.startswith(author) and each.quantity == quantity and each.finish == finish
    )


@pytest.mark.parametrize(
    "cone,silica,alumina", [("04", 1.70, 0.17), ("3", 2.20, 0.22), ("5", 2.20, 0.22), ("9", 3, 0.3)]
)
def test_mcwhinnies_own_examples_lie_in_his_gloss_ranges(cone, silica, alumina):
    # Read: H. McWhinnie 2000, lesson 2 part 2: examples at cone 04, 3-5, 8-10, all of ratio 10.
    unity = {"CaO": 0.5, "K2O": 0.5, "SiO2": silica, "Al2O3": alumina}
    assert place(unity, cone, "H. McWhinnie", "SiO2") == "within"
    assert place(unity, cone, "H. McWhinnie", "SiO2:Al2O3", "gloss") == "within"


def test_two_authors_disagree_at_cone_6_and_both_are_told():
    # Read: McWhinnie 1.90-2.50, Carty (cited by T. Buck) 2.5-3.5 and up to 4.0.
    unity = {"CaO": 0.7, "K2O": 0.3, "SiO2": 3.2, "Al2O3": 0.4}
    assert place(unity, "6", "H. McWhinnie", "SiO2") == "above"
    assert place(unity, "6", "W. Carty", "SiO2") == "within"


def test_cartys_ratios_at_cone_6():
    # Read: ratio 7-10 gloss, 5-7 satin, below 5 dry.
    for ratio, finish in ((8.5, "gloss"), (6, "satin"), (4, "dry")):
        unity = {"CaO": 1.0, "SiO2": ratio * 0.4, "Al2O3": 0.4}
        assert place(unity, "6", "W. Carty", "SiO2:Al2O3", finish) == "within"


def test_stulls_bright_and_matt_zones():
    # From memory: R. T. Stull 1912, below about 5 matt, best brights near 7-9, at about cone 11.
    base = {"K2O": 0.3, "CaO": 0.7, "Al2O3": 0.5}
    assert place(base | {"SiO2": 4.0}, "11", "R. T. Stull", "SiO2:Al2O3", "bright") == "within"
    assert place(base | {"SiO2": 2.0}, "11", "R. T. Stull", "SiO2:Al2O3", "matt") == "within"
