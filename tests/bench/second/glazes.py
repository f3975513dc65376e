"""The glazes of the second studio: recipes of real materials, or bought jars behind a label."""

import numpy as np

from tests.bench.second.scale import PLACE, temperature_c
from tiles.chemistry import expansion, formula, melt

LOW = [
    {"soda borate frit": (45, 75), "kaolin": (8, 16), "silica": (8, 28),
     "calcium borate frit": (0, 20)},
    {"calcium borate frit": (40, 65), "soda feldspar": (8, 28), "kaolin": (8, 26),
     "silica": (5, 22)},
    {"high alkali frit": (35, 60), "kaolin": (8, 14), "silica": (15, 32), "whiting": (0, 6)},
    {"low expansion frit": (35, 60), "soda borate frit": (15, 35), "kaolin": (8, 14),
     "zinc oxide": (0, 9)},
    {"colemanite": (25, 45), "nepheline syenite": (15, 35), "kaolin": (5, 15),
     "silica": (12, 30)},
    {"calcium borate frit": (35, 50), "kaolin": (20, 36), "soda borate frit": (8, 20),
     "whiting": (5, 14)},
]  # fmt: skip
"""Families of low-fire glazes: least and most parts by weight of each material (estimates)."""

MID = [
    {"soda feldspar": (30, 48), "silica": (14, 28), "whiting": (10, 18), "kaolin": (8, 16),
     "zinc oxide": (3, 12), "calcium borate frit": (6, 18)},
    {"nepheline syenite": (30, 52), "silica": (12, 28), "talc": (4, 14), "kaolin": (6, 15),
     "colemanite": (8, 24)},
    {"potash feldspar": (20, 36), "calcium borate frit": (18, 32), "silica": (16, 30),
     "kaolin": (12, 24), "dolomite": (2, 10)},
    {"soda feldspar": (28, 40), "whiting": (14, 24), "kaolin": (20, 32), "silica": (2, 12),
     "dolomite": (4, 14), "soda borate frit": (4, 14)},
    {"spodumene": (8, 24), "potash feldspar": (18, 32), "calcium borate frit": (12, 24),
     "silica": (16, 28), "kaolin": (8, 18)},
    {"soda feldspar": (25, 40), "ball clay": (14, 32), "whiting": (10, 18), "silica": (8, 20),
     "soda borate frit": (10, 22)},
]  # fmt: skip
EXTRAS = [
    ("tin oxide", 2, 8), ("zirconium silicate", 3, 14), ("copper carbonate", 1, 6),
    ("cobalt carbonate", 0.5, 2.5), ("red iron oxide", 1, 10), ("rutile", 2, 8),
    ("manganese dioxide", 1, 5),
]  # fmt: skip
LOW_LABELS = [("06", "05"), ("06", "04"), ("05", "04"), ("08", "06")]
MID_LABELS = [("5", "6"), ("4", "6"), ("6", "6")]
FIRST_WORDS = [
    "pond", "moss", "ember", "linen", "dusk", "barley", "slate", "plum", "foam", "rust", "sky",
    "honey", "ink", "chalk", "fern", "brick",
]  # fmt: skip
LAST_WORDS = {
    "clear": ["clear"], "gloss": ["green", "blue", "white", "red", "amber", "black"],
    "satin": ["satin grey", "satin white", "satin teal"],
    "matt": ["matt white", "matt stone", "matt blue"], "crackle": ["crackle"],
    "textured": ["lava"],
}  # fmt: skip


def make_glaze(rng: np.random.Generator, band: str, names: set[str]) -> dict:
    """One glaze of the ``low`` or ``mid`` band; its name is added to ``names``."""
    is_jar = rng.random() < (0.7 if band == "low" else 0.45)
    low, high = _label(rng, band)
    intended = (PLACE[low] + PLACE[high]) / 2
    parts, extras = _recipe(rng, band)
    computed = _computed(parts, extras, intended)
    finish = _finish(rng, computed, extras)
    name = _name(rng, finish, names)
    glaze = {
        "name": name, "is_jar": is_jar, "band": band, "cone_low": low, "cone_high": high,
        "finish": finish, "parts": parts, "extras": extras, "chemistry": computed,
        "colour": name.split(" ")[-1], "is_red": "red" in name.split(" ") and is_jar,
    }  # fmt: skip
    return glaze | _looks(glaze) | _hidden(rng, glaze, intended)


def _label(rng: np.random.Generator, band: str) -> tuple[str, str]:
    """The cones printed on the jar or written on the recipe."""
    if band == "low":
        return LOW_LABELS[rng.choice(4, p=[0.35, 0.4, 0.15, 0.1])]
    return MID_LABELS[rng.choice(3, p=[0.5, 0.35, 0.15])]


def _recipe(rng: np.random.Generator, band: str) -> tuple[dict, dict]:
    family = (LOW if band == "low" else MID)[rng.integers(6)]
    parts = {material: rng.uniform(*limits) for material, limits in family.items()}
    parts = {material: amount for material, amount in parts.items() if amount > 2}
    total = sum(parts.values())
    parts = {each: max(1, round(100 * amount / total)) for each, amount in parts.items()}
    extras = {}
    for _ in range(rng.choice([0, 1, 2], p=[0.3, 0.45, 0.25])):
        name, least, most = EXTRAS[rng.integers(len(EXTRAS))]
        extras[name] = round(rng.uniform(least, most), 1)
    return parts, extras


def _computed(parts: dict, extras: dict, place: float) -> dict[str, float]:
    """What a recipe tells by calculation; the truth adds a hidden error to it."""
    found = formula.analyse(parts, extras=extras)
    unity = {oxide: found.unity.get(oxide, 0) for oxide in ("B2O3", "Al2O3", "ZnO", "MgO", "CaO")}
    acid = found.unity.get("SiO2", 0) + (unity["B2O3"] if place < PLACE["4"] else 0)
    return {
        "expansion": expansion.estimate(found.mole_percent).value,
        "loss": found.loss_on_ignition_percent,
        "clay": found.raw_clay_percent,
        "viscosity": melt.estimate(found.mole_percent, temperature_c(place)).value,
        "acid to alumina": acid / max(0.02, unity["Al2O3"]),
        **unity,
        **{name: extras.get(name, 0.0) for name, _, _ in EXTRAS},
    }


def _finish(rng: np.random.Generator, computed: dict, extras: dict) -> str:
    ratio = computed["acid to alumina"] * np.exp(rng.normal(0, 0.12))
    luck = rng.random()
    if ratio < 6.2:
        finish = "matt" if luck < 0.6 else "satin"
    elif ratio < 8:
        finish = "satin" if luck < 0.5 else "gloss"
    else:
        finish = "gloss"
    if finish == "gloss" and not extras:
        finish = "clear"
    if finish == "gloss" and computed["expansion"] > 9 and luck < 0.5:
        finish = "crackle"
    if finish in ("matt", "gloss") and rng.random() < 0.05:
        finish = "textured"
    return finish


def _name(rng: np.random.Generator, finish: str, names: set[str]) -> str:
    last_words = LAST_WORDS[finish]
    while True:
        first = FIRST_WORDS[rng.integers(len(FIRST_WORDS))]
        name = f"{first} {last_words[rng.integers(len(last_words))]}"
        if name in names:
            name += f" {rng.integers(2, 99)}"
        if name not in names:
            names.add(name)
            return name


def _looks(glaze: dict) -> dict:
    extras = glaze["extras"]
    opaque = (extras.get("tin oxide", 0) + 0.6 * extras.get("zirconium silicate", 0)) / 6
    opacity = min(1, opaque)
    return {"opacity": opacity, "is_translucent": glaze["finish"] == "clear" or opacity < 0.4}


def _hidden(rng: np.random.Generator, glaze: dict, intended: float) -> dict:
    """How the glaze really is: a bought jar is tuned to its label and wanders less."""
    is_jar, computed = glaze["is_jar"], glaze["chemistry"]
    stiffness = np.clip((computed["viscosity"] - 2.85) / 0.7, -2, 2)
    matures = intended + (0.25 if is_jar else 0.7) * stiffness + rng.normal(0, 0.4)
    centre, jar_centre = (6.0, 6.5) if glaze["band"] == "low" else (5.6, 5.8)
    fits = jar_centre + 0.6 * (computed["expansion"] - centre) if is_jar else computed["expansion"]
    tamed = 0.6 if is_jar else 1
    return {
        "matures_at": matures,
        "expansion": fits + rng.normal(0, 0.45 if is_jar else 0.5),
        "loss": tamed * computed["loss"],
        "clay": tamed * computed["clay"],
        "stiffness": stiffness + rng.normal(0, 0.3),
        "coat_factor": rng.normal(0, 0.18),
        "is_liquid": is_jar and rng.random() < 0.85,
        "half_dry_share": rng.beta(1.2, 5),
        "sieve_mesh": int(rng.choice([30, 60, 80, 100, 120])),
        "weight": rng.gamma(0.9),
        "is_sensitive": glaze["is_red"] and rng.random() < 0.7,
    }
