"""Which cones a label speaks of when it speaks of food, and whether a tile was fired so."""

import pytest

from tiles.records.food_label import FoodLabel, cones_named


@pytest.mark.parametrize(
    ("label", "cones"),
    [
        ("food safe when fired to cone 05", ("05", "05")),
        ("dinnerware safe at cone 06-04", ("06", "04")),
        ("Dinnerware safe, ^06 to ^05", ("06", "05")),
        ("safe for food between cones 5 and 6", ("5", "6")),
        ("food safe at c6", ("6", "6")),
        ("Food safe at cone 05.", ("05", "05")),
        ("fit for food, 05", ("05", "05")),
        ("food safe under a clear, cone 05½", ("05½", "05½")),
        ("food safe from cone 06 to 04", ("06", "04")),
        ("food safe, cone 5 through 6", ("5", "6")),
        ("food safe at cone 05 or hotter", ("05", "14")),
        ("food safe, 05 or above", ("05", "14")),
        ("food safe 05+", ("05", "14")),
        ("food safe at cone 05 +/- half a cone", ("05", "05")),
        ("food safe when fired to at least  cone 05", ("05", "14")),
        ("food safe, minimum cone 5", ("5", "14")),
        ("food safe if fired no cooler than cone 05", ("05", "14")),
        ("food safe at cone 06 to 04 and up", ("06", "14")),
        ("food safe at cone 6 or lower", ("022", "6")),
        ("food safe up to cone 04", ("022", "04")),
        ("food safe, not over cone 04", ("022", "04")),
        ("below 0.5 mg/l lead at cone 05", ("05", "05")),
        ("food safe at cone 05 with 10 min hold", ("05", "05")),
        ("not food safe at cone 06", None),
        ("food safe at cone 05, not at 06", None),
        ("fit for food above cone 05", None),
        ("fit for food over cone 05", None),
        ("food safe from cone 05", None),
        ("food safe, fired a little hotter than cone 05", None),
        ("food safe", None),
        ("not for food", None),
        ("passed 2 of 2 leach tests, cert. 1075", None),
        ("below 0.5 mg/l lead", None),
        ("tested 06/2021", None),
        ("food safe at cone 99", None),
        ("Food safe when fired to cone 05. Not for microwave.", ("05", "05")),
        ("Not for microwave, food safe at cone 05", ("05", "05")),
        ("food safe, cone 06-04, do not eat raw glaze", ("06", "04")),
        ("Not food safe, even at cone 05", None),
        ("Food safe. Do not fire at cone 06!", None),
        ("dinnerware safe up to and including cone 04", ("022", "04")),
        ("batch tested 2023-05-01, food safe", None),
        ("tested 01-05-2023", None),
        ("phone 05 123", None),
        ("No. 07 jar food safe", None),
        ("food safe 06 04", ("06", "04")),
        ("food safe 06..04", ("06", "04")),
        ("food safe 06 — 04", ("06", "04")),
        ("food safe at cone 05 plus", ("05", "14")),
        ("food safe at cone 05, or hotter", ("05", "14")),
        ("food safe, cone 05 at least", ("05", "14")),
        ("food safe, cone 05 at most", ("022", "05")),
        ("food safe Δ6", ("6", "6")),
        ("food safe ∆06-∆04", ("06", "04")),
        ("Food safe at 06, 05 or 04", ("06", "04")),
        ("Food safe at cone 05. Fire to cone 05.", ("05", "05")),
        ("Food safe at ^5-6; decorative at ^06", None),
        ("decorative at cone 06, food safe at cone 5", None),
        ("Food safe cone 6 / unsafe cone 06", None),
        ("Food safe at cone 6; bisque 04", None),
        ("Bisque to cone 04, glaze to cone 6: food safe", None),
        ("food safe at cone 5, glossy at cone 6", None),
        ("food safe at cone 05 or hotter, cone 6 or lower", None),
        ("decorative at cone 06", None),
        ("unsafe at cone 06", None),
    ],
)
def test_the_cones_of_a_label_are_read(label, cones):
    assert cones_named(label) == cones


def met(text, *cones, fired_to=None):
    return [FoodLabel(text, fired_to).is_met(cone) for cone in cones]


def test_another_cone_or_none_does_not_meet_the_condition():
    label = "food safe when fired to cone 06 to 04"
    assert met(label, "06", "05½", "04") == [True] * 3
    assert met(label, "07", "03", "6", None) == [False] * 4
    open_above = "food safe at cone 05 or hotter"
    assert met(open_above, "06", "05", "04", "6", None) == [False, True, True, True, False]
    assert met("food safe", None) == met("not for food", "05") == [True]


def test_the_cones_of_the_jar_count_where_the_label_names_none():
    assert met("dinnerware safe", "05", "5", "6", None, fired_to=("5", "6")) == [
        False, True, True, False,
    ]  # fmt: skip
    assert met("food safe up to cone 04", "04", "010", fired_to=("06", "04")) == [True, False]


def test_a_warning_holds_at_every_cone():
    assert met("not for food", "05", "6", None, fired_to=("06", "04")) == [True] * 3
    assert met("food safe", "05", "6", None, fired_to=("06", "04")) == [True, False, False]


def test_a_label_that_does_not_speak_plainly_of_its_cones_is_not_judged():
    assert met("not food safe at cone 06", "06", "04", None) == [None] * 3
    assert met("Food safe at cone 5-6; decorative at cone 06", "06", "01", "6") == [None] * 3
    assert met("not food safe at cone 06", "05", "5", fired_to=("06", "04")) == [None, False]


@pytest.mark.parametrize(
    ("label", "says_safe", "is_warning"),
    [
        ("food safe when fired to cone 05", True, False),
        ("Dinnerware safe. Not for microwave.", True, False),
        ("safe for food", True, False),
        ("not food safe", False, True),
        ("may not be quite food safe", False, True),
        ("not for food", False, True),
        ("decorative use", False, True),
        ("Food safe, but not at cone 06", False, False),
        ("fit for mugs", False, False),
        ("safe under a food safe clear", False, False),
        ("Food safe only beneath a clear glaze", False, False),
        ("Non-toxic, food safe", True, False),
        ("No lead. Food safe", True, False),
        ("Lead-free, non-toxic, dinnerware safe", True, False),
        ("Contains no lead or cadmium; food safe at cone 05", True, False),
        ("Contains lead. Food safe at cone 05", False, False),
        ("non-toxic, not food safe", False, True),
        ("decorative, lead free", False, True),
        ("Not dishwasher or food safe", False, True),
        ("not a really food safe glaze", False, True),
        ("Not tested, food safe", False, False),
        ("Food safe. Brush on three coats. Do not eat raw glaze.", True, False),
    ],
)
def test_whether_a_label_says_in_plain_words_that_it_is_safe_or_warns(label, says_safe, is_warning):
    said = FoodLabel(label)
    assert (said.says_safe, said.is_warning) == (says_safe, is_warning)


CONDITIONS = """with a clear glaze over it, with clear, topped with clear, if clear glazed
when overglazed with clear, once sealed, after a clear coat, at cone 05 and glazed, if covered
under a transparent glaze""".replace("\n", ", ").split(", ")


@pytest.mark.parametrize("condition", CONDITIONS)
def test_a_promise_on_another_condition_is_not_plain_and_asks_for_a_cover(condition):
    said = FoodLabel(f"food safe {condition}")
    assert (said.says_safe, said.is_warning, said.asks_for_cover) == (False, False, True)
    assert (said.is_met("05"), FoodLabel("food safe, clear over it", ("5", "6")).is_met("05")) == (
        None, False,
    )  # fmt: skip
    assert FoodLabel("Food safe. Cover with clear.").asks_for_cover
    assert not FoodLabel("decorative, under clear").asks_for_cover


@pytest.mark.parametrize("label", ["food safe with 10 min hold", "food safe when fired to maturity",
                                   "mit Deckschicht food safe", "Food safe: no"])  # fmt: skip
def test_a_promise_beside_words_that_are_not_known_is_read_by_a_person(label):
    said = FoodLabel(label)
    assert (said.says_safe, said.asks_for_cover, said.is_met("05")) == (False, False, None)


@pytest.mark.parametrize(
    "text",
    ["Food safe?", "Food safe ???", "Food safe*", "Food safe \N{BALLOT X}",
     "Food safe. Thin coats leach", "Food safe. Ask maker", "Food safe. Seal.",
     "Food safe. Use over white slip", "Not toxic or food safe",
     "Don\N{RIGHT SINGLE QUOTATION MARK}t use with food; food safe"],
)  # fmt: skip
def test_a_promise_with_a_doubt_of_any_kind_is_none(text):
    assert not FoodLabel(text).says_safe


@pytest.mark.parametrize(
    "text", ["Food safe. Apply three coats, shake well.", "Non-toxic, food safe", "Food safe!"]
)
def test_how_to_put_it_on_is_no_doubt(text):
    assert FoodLabel(text).says_safe


def test_a_typographic_apostrophe_denies_as_well():
    assert FoodLabel("Isn\N{RIGHT SINGLE QUOTATION MARK}t food safe").is_warning


@pytest.mark.parametrize(
    ("safe", "warning"),
    [
        ("lebensmittelecht, bleifrei", "nicht für Geschirr"),
        ("qualité alimentaire, sans plomb", "ne convient pas aux aliments"),
        ("voedselveilig", "niet geschikt voor voedsel"),
        ("apto para uso alimentario", "no apto para alimentos"),
        ("idoneo per alimenti", "non idoneo per alimenti"),
        ("seguro para alimentos", "não usar com alimentos"),
        ("fødevaregodkendt", "ikke til fødevarer"),
        ("livsmedelsgodkänd", "ej för livsmedel"),
        ("elintarvikekelpoinen", "ei elintarvikkeille"),
        ("do kontaktu z żywnością", "nie do kontaktu z żywnością"),
        ("pro styk s potravinami", "není vhodné pro potraviny"),
        ("food safe", "not for food"),
    ],
)
def test_a_promise_and_a_warning_are_read_in_other_languages(safe, warning):
    # General vocabulary of the languages, common knowledge, no source.
    told = [(FoodLabel(each).says_safe, FoodLabel(each).is_warning) for each in (safe, warning)]
    assert told == [(True, False), (False, True)]
    assert FoodLabel(safe).is_understood and FoodLabel(warning).is_understood
    assert not FoodLabel(f"{safe} bis 1050 °C").says_safe


@pytest.mark.parametrize(
    ("label", "is_understood"),
    [
        ("lead free", True), ("Pb-free", True), ("no lead oxide", True), ("Pb", False),
        ("no barium carbonate; lead\N{NON-BREAKING HYPHEN}free", True),
        ("sans plomb ni cadmium", True), ("not tested by us", True),
        ("food safe under a clear glaze", True), ("", True), ("свинец", False), ("xyz", False),
        ("GHS08 H360Df", True), ("H360, xyz", False),
        ("food safe, xyz", False), ("nicht xyz", False), ("?", False),
    ],
)  # fmt: skip
def test_what_a_label_says_is_understood_whole_or_not(label, is_understood):
    assert FoodLabel(label).is_understood is is_understood
    assert is_understood or FoodLabel(label).is_met("05") is None


@pytest.mark.parametrize("label", ["☠", "☠ food safe", "dinnerware safe ⚠️"])
def test_beside_a_sign_that_warns_no_promise_is_read(label):
    said = FoodLabel(label)
    assert not said.says_safe and not said.is_understood
