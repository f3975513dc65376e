"""Random tile records that agree with each other, as one studio's would."""

from datetime import date

from hypothesis import strategies as st

from tiles.chemistry.cones import CONES
from tiles.records import clues, forms, words

BODIES = ("red earthenware", "white body")
GLAZES = ("pond green", "studio clear", "white slip")
KILNS = ("top loader", "front loader")
FIRINGS = ("F1", "F2", "F3")
BISQUES = ("B1", "B2")
BATCHES = ("May", "June")
SHELVES = ("top", "stra\u00dfe")  # where capitals fold to other letters
MADE, FIRED = date(2026, 1, 20), date(2026, 2, 1)

cones = st.sampled_from([*CONES, "05", "05", "5"])  # 05 and 5 often enough to meet
TURNING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Signs that turn the text round them: commands to a screen, which no record may hold."""
letters = st.characters(exclude_categories=["Cs", "Cc", "Z"], exclude_characters=TURNING)
written = st.text(letters, min_size=1, max_size=12).filter(words.tidy_name)  # a person sees it
noted = written | st.sampled_from(["Kurs-7C; \u00c4rmel", "old stock", "a party, stock of May"])
after_the_firing = st.dates(date(2026, 2, 2), date(2026, 10, 1))


def maybe(strategy):
    return st.none() | strategy


def word(choices):
    return maybe(st.sampled_from(choices))


def between(low, high):
    return maybe(st.floats(low, high, allow_nan=False).map(lambda value: round(value, 3)))


@st.composite
def firings(draw, name, kind="glaze"):
    shelves = draw(st.lists(st.sampled_from([None, *SHELVES]), unique=True, max_size=3))
    return {
        "name": name,
        "kind": kind,
        "kiln": draw(word(KILNS)),
        "fired_on": draw(st.sampled_from([None, FIRED.isoformat()])),
        "target_cone": draw(maybe(cones)),
        "hold_min": draw(between(0, 60)),
        "peak_c": draw(between(900, 1300)),
        "opened_c": draw(between(20, 300)),
        "atmosphere": draw(word(words.ATMOSPHERES)),
        "witness_cones": [{"shelf": shelf, "cone": draw(cones)} for shelf in shelves],
    }


layers = st.fixed_dictionaries(
    {
        "glaze": st.sampled_from(GLAZES),
        "batch": word(BATCHES),
        "coats": maybe(st.integers(1, 3)),
        "thickness_mm": maybe(st.sampled_from([0.3, 0.6, 0.9, 1.2])),
        "fired_thickness_mm": between(0.05, 2),
        "method": word(words.METHODS),
        "applied_on": word(words.APPLIED_ON),
        "beneath": word(words.BENEATH),
    }
)


def clues_about(about):
    return [clue.name for clue in clues.clues().values() if clue.about == about]


def clue_answers(about):
    names = clues_about(about)
    often = st.sampled_from(names[:2]) | st.sampled_from(names)  # those that searches ask for
    return st.dictionaries(often, st.sampled_from(["yes", "no"]), max_size=3)


@st.composite
def areas(draw):
    return [
        {
            "number": number,
            "label": draw(maybe(written)),
            "surface": draw(word(words.SURFACES)),
            "layers": draw(st.lists(layers, max_size=2)),
            "clues": draw(clue_answers("area")),
        }
        for number in range(1, draw(st.integers(1, 3)) + 1)
    ]


@st.composite
def looks(draw, area_count):
    defect = st.fixed_dictionaries(
        {
            "defect": st.sampled_from(words.DEFECTS[:4]),
            "severity": word(words.SEVERITIES),
            "area": maybe(st.integers(1, area_count)),
            "place": maybe(written),
        }
    )
    seen = st.lists(defect, max_size=2, unique_by=lambda each: each["defect"])
    days = sorted(draw(st.lists(after_the_firing, max_size=2, unique=True)))
    return [
        {"inspected_on": day.isoformat(), "defects": draw(seen),
         "note": draw(maybe(noted))}
        for day in days
    ]  # fmt: skip


@st.composite
def tiles(draw, mark, studio, bisques):
    own = draw(areas())
    return {
        "mark": mark,
        "made_on": draw(word([MADE.isoformat()])),
        "form": draw(word(words.TILE_FORMS)),
        "stood": draw(word(words.STOOD)),
        "body": draw(st.sampled_from(BODIES)),
        "bisque_cone": draw(maybe(cones)),
        "bisque_firing": draw(word(list(bisques.values()))),
        "firing": draw(word(list(studio.values()))),
        "shelf": draw(word([*SHELVES, "STRASSE"])),
        "cone_reached": draw(maybe(cones)),
        "areas": own,
        "clues": draw(clue_answers("tile")) | draw(clue_answers("area")),
        "inspections": draw(looks(len(own))),
        "note": draw(maybe(noted)),
    }


@st.composite
def studios(draw, max_tiles=6):
    """Records of several tiles that share their firings, checked and ready to store."""
    shared = {name: draw(firings(name)) for name in FIRINGS}
    bisques = {name: draw(firings(name, "bisque")) for name in BISQUES}
    count = draw(st.integers(1, max_tiles))
    values = [draw(tiles(f"M-{number}", shared, bisques)) for number in range(1, count + 1)]
    return [forms.read(forms.TileRecord, each) for each in values]
