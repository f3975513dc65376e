"""Jars, studio recipes, underglazes and their buckets, with what each really is."""

from functools import cache

import numpy as np
import pandas as pd

from tests.bench.third.tools import pick

_BASES = {
    "low": {
        "clear": ("gloss", {"calcium borate frit": 40, "soda borate frit": 28, "kaolin": 14,
                            "silica": 18}),
        "soft white": ("gloss", {"calcium borate frit": 35, "soda borate frit": 33, "kaolin": 13,
                                 "silica": 14, "zinc oxide": 5}),
        "alkaline": ("gloss", {"high alkali frit": 55, "calcium borate frit": 12, "kaolin": 13,
                               "silica": 20}),
        "rock borate": ("gloss", {"colemanite": 38, "soda feldspar": 24, "kaolin": 10,
                                  "silica": 28}),
        "dull": ("matt", {"soda borate frit": 44, "kaolin": 27, "whiting": 14, "silica": 8,
                          "light magnesium carbonate": 7}),
    },
    "mid": {
        "clear": ("gloss", {"nepheline syenite": 24, "silica": 26, "whiting": 12,
                            "calcium borate frit": 22, "kaolin": 12, "zinc oxide": 4}),
        "magnesia": ("matt", {"nepheline syenite": 38, "talc": 14, "whiting": 14, "kaolin": 22,
                              "silica": 6, "calcium borate frit": 6}),
        "spar": ("gloss", {"soda feldspar": 42, "silica": 18, "whiting": 14, "colemanite": 14,
                           "kaolin": 8, "zinc oxide": 4}),
        "zinc": ("satin", {"potash feldspar": 40, "whiting": 12, "zinc oxide": 14, "silica": 22,
                           "kaolin": 6, "colemanite": 6}),
        "lithia": ("satin", {"spodumene": 24, "nepheline syenite": 16, "whiting": 10, "talc": 8,
                             "silica": 22, "calcium borate frit": 14, "ball clay": 6}),
        "slip": ("gloss", {"red earthenware clay": 45, "soda borate frit": 25, "whiting": 12,
                           "silica": 10, "nepheline syenite": 8}),
    },
}  # fmt: skip
# colour class: word in the name, additions of a recipe, share among glazes
_COLOURS = {
    "none": (("clear", "plain"), {}, 1.0),
    "white": (("white", "cream"), {"zirconium silicate": 11}, 1.3),
    "tin white": (("majolica white", "chalk white"), {"tin oxide": 7}, .4),
    "copper": (("pond green", "fern", "turquoise"), {"copper carbonate": 3.5}, 1.5),
    "cobalt": (("night blue", "lake blue"), {"cobalt carbonate": 1.2}, 1.4),
    "iron": (("honey", "rust", "tea brown"), {"red iron oxide": 6}, 1.4),
    "rutile": (("oatmeal", "sand drift"), {"rutile": 6}, .8),
    "pink": (("rose pink", "shell pink"), {"tin oxide": 6, "chromium oxide": .25}, .6),
    "red": (("bright red", "orange"), {}, .7),
    "chrome": (("leaf green", "moss"), {"chromium oxide": 1.0}, .5),
    "black": (("black", "slate"), {"cobalt oxide": 1.5, "red iron oxide": 5}, 1.0),
    "lilac": (("lilac", "violet"), {"cobalt carbonate": .6, "tin oxide": 2}, .4),
}  # fmt: skip
_MORE = ("pool", "meadow", "harbour", "orchard", "dune", "storm", "quarry", "garden", "winter",
         "evening", "market", "chapel", "island", "copse", "ferry")  # fmt: skip
_FROM_RECIPE = {"classroom": 0.07, "mid range": 0.48, "mixed": 0.25}
_OPAQUE = {"none": 0, "white": 1, "tin white": 1, "black": 1, "red": .7, "pink": .6, "rutile": .6,
           "chrome": .6, "iron": .45, "copper": .25, "cobalt": .4, "lilac": .5}  # fmt: skip


@cache
def _glass():
    """The chemistry the program offers; used for what a recipe really is."""
    from tiles.chemistry import expansion, formula, melt

    return formula, expansion, melt


def _shown(parts: dict) -> str:
    base = "; ".join(f"{name}={amount:g}" for name, amount in parts["base"].items())
    more = "; ".join(f"+{name}={amount:g}" for name, amount in parts["extra"].items())
    return f"{base}; {more}" if more else base


def _recipe(rng, band: str, colour: str, wanted: str) -> dict:
    """A studio recipe near one of the usual bases, and what it is as a glass."""
    names = [n for n, (finish, _) in _BASES[band].items()
             if finish == wanted or wanted in ("clear", "gloss") and finish == "gloss"]  # fmt: skip
    names = names or list(_BASES[band])
    finish, base = _BASES[band][names[rng.integers(len(names))]]
    base = {m: p * np.exp(rng.normal(0, 0.16)) for m, p in base.items()}
    total = sum(base.values())
    base = {m: round(100 * p / total, 1) for m, p in base.items()}
    extra = {m: round(float(p * np.exp(rng.normal(0, .3))), 2)
             for m, p in _COLOURS[colour][1].items()}  # fmt: skip
    formula, expansion, melt = _glass()
    made = formula.analyse(base, extras=extra)
    unity, mole = made.unity, made.mole_percent
    heat_c = 1031.0 if band == "low" else 1205.0
    viscosity = melt.estimate(mole, heat_c).value
    both = {**base, **extra}
    kna = unity.get("Na2O", 0) + unity.get("K2O", 0)
    ratio = (unity["SiO2"] + (unity.get("B2O3", 0) if band == "low" else 0)) / unity["Al2O3"]
    clay = sum(both.get(m, 0) for m in ("kaolin", "ball clay", "red earthenware clay"))
    return {
        "recipe": _shown({"base": base, "extra": extra}), "base_finish": finish,
        "exp": expansion.estimate(mole).value + rng.normal(0, .25), "kna": kna,
        "stiff": np.clip((viscosity - (3.0 if band == "low" else 2.75)) / .5, -2, 2),
        "boron": unity.get("B2O3", 0), "alumina": unity["Al2O3"], "ratio": ratio,
        "zinc": both.get("zinc oxide", 0), "magnesia": unity.get("MgO", 0),
        "lime": unity.get("CaO", 0), "lithia": unity.get("Li2O", 0),
        "loi": made.loss_on_ignition_percent,
        "shrinks": (clay - 14) / 14 + both.get("zinc oxide", 0) / 10
        + both.get("light magnesium carbonate", 0) / 6 + both.get("colemanite", 0) / 40,
        "opacifier": both.get("zirconium silicate", 0) + both.get("tin oxide", 0),
        "carbonate": both.get("copper carbonate", 0) + both.get("cobalt carbonate", 0),
        "crystals": np.clip(unity.get("ZnO", 0) / .4 + both.get("rutile", 0) / 8
                            + max(0, unity.get("CaO", 0) - .6) * 1.5, 0, 1.5),
    }  # fmt: skip


def _jar(rng, band: str, colour: str, finish: str) -> dict:
    """What is in a bought jar; the label does not tell."""
    low = band == "low"
    dull = finish in ("matt", "satin")
    return {
        "recipe": None, "base_finish": finish,
        "exp": rng.normal(6.5 if low else 5.8, .28) + (1.5 if finish == "crackle" else 0)
        + (.35 if colour == "copper" and rng.random() < .4 else 0),
        "kna": np.clip(rng.normal(.4 if low else .25, .12), .05, .8),
        "stiff": np.clip(rng.normal(.3 if dull else -.15, .32), -1.6, 1.8),
        "boron": np.clip(rng.normal(.75 if low else .25, .22), 0, 1.6),
        "alumina": np.clip(rng.normal(.24 if low else .34, .08), .08, .6),
        "ratio": rng.normal(5.6 if finish == "matt" else 7.2 if finish == "satin" else 9.5, .7),
        "zinc": max(0, rng.normal(1, 3)), "magnesia": max(0, rng.normal(.05, .12)),
        "lime": np.clip(rng.normal(.45, .15), .05, .9), "lithia": max(0, rng.normal(0, .09)),
        "loi": np.clip(rng.normal(4 if low else 6.5, 1), .5, 14),
        "shrinks": rng.normal(.25 if dull else -.1, .3),
        "opacifier": _OPAQUE[colour] * rng.uniform(2, 11), "carbonate":
        (colour in ("copper", "cobalt")) * rng.uniform(0, 4),
        "crystals": np.clip(rng.normal(.5 if dull or colour == "rutile" else .2, .3), 0, 1.5),
    }  # fmt: skip


def _label_range(rng: np.random.Generator, band: str) -> tuple[int, int]:
    """Both ends of a label's range, as places on the cone scale."""
    if band == "low":
        if rng.random() < 0.6:
            return 16, 18
        return (16, 17) if rng.random() < 0.7 else (17, 18)
    return (26, 27) if rng.random() < 0.55 else (25, 27)


def make_glazes(rng: np.random.Generator, room, n_tiles: int) -> pd.DataFrame:
    """All glazes and underglazes of a studio; new ones come in over time."""
    n = round(2.75 * n_tiles**0.505 * np.exp(rng.normal(0, 0.12)))
    n_under = max(1, round(n * (0.16 if room.kind == "mid range" else 0.22)))
    bands, weight = list(room.bands), np.array(list(room.bands.values()))
    rows, used = [], set()
    for i in range(max(n, 6)):
        band = bands[i] if i < len(bands) else rng.choice(bands, p=weight / weight.sum())
        under = i >= len(bands) and i < len(bands) + n_under
        first_clear = i < len(bands)
        odds = {c: v[2] for c, v in _COLOURS.items() if not (under and c == "none")}
        colour = "none" if first_clear else pick(rng, odds)
        finish = "clear" if colour == "none" else pick(
            rng, {"gloss": 5.5, "satin": 1.6, "matt": 1.8, "textured": .4,
                  "crackle": .35 if band == "low" else .15})  # fmt: skip
        mixed = not under and rng.random() < _FROM_RECIPE[room.kind]
        if mixed and colour == "red":
            colour = "iron"
        mixed = mixed and finish not in ("crackle", "textured")
        made = (_recipe if mixed else _jar)(rng, band, colour, finish)
        if mixed and finish in ("satin", "matt"):
            finish = made["base_finish"]
        word = _COLOURS[colour][0][rng.integers(len(_COLOURS[colour][0]))]
        stem = f"{_MORE[rng.integers(len(_MORE))]} {word}" + (" underglaze" if under else "")
        stem += {"matt": " matt", "satin": " satin", "crackle": " crackle"}.get(
            finish, "") * (rng.random() < .5) * (not under)  # fmt: skip
        while stem in used:
            stem = f"{stem} {rng.integers(2, 99)}"
        used.add(stem)
        low, high = _label_range(rng, band)
        if under:
            low, high = 16, rng.choice([19, 26, 27])
        real = low + (0.1 if band == "low" else -0.1) + 0.7 * made["stiff"] + rng.normal(0, 0.12)
        rows.append(made | {
            "name": stem, "band": band, "colour_class": colour, "finish": finish, "word": word,
            "role": "underglaze" if under else "glaze", "kind": "recipe" if mixed else "jar",
            "low": low, "high": high, "melts": float(real),
            "over_at": float(real + np.clip(rng.normal(2.8, .35), 1.0, 4.5) + .2 * made["stiff"]),
            "fluid": float(np.clip(.5 - .28 * made["stiff"] + .4 * (colour == "rutile")
                                   + .15 * (colour == "copper") - 1.2 * (made["alumina"] - .3)
                                   + rng.normal(0, .08), 0, 1.4)),
            "opaque": _OPAQUE[colour], "supplied": "dry" if mixed or rng.random() < (
                .05 if band == "low" else .3) else "liquid",
            "sensitive": colour == "red" and bool(rng.random() < .8),
            "refractory": float(colour in ("chrome", "pink", "black")) if under else 0.0,
            "fades": float(np.exp(rng.normal(0, .5))),
            "came": 0.0 if i < max(4, .3 * n) else float(rng.uniform(0, .95) * room.days),
            "share": float(rng.gamma(1.4) + .25) * (2.2 if first_clear else 1),
        })  # fmt: skip
    return pd.DataFrame(rows)


def make_buckets(rng: np.random.Generator, room, glazes: pd.DataFrame) -> pd.DataFrame:
    """One to four buckets or jars of each glaze, one after the other, and what ails them."""
    rows = []
    for g, glaze in enumerate(glazes.itertuples()):
        many = 1 + rng.poisson(0.9 if glaze.kind == "recipe" else 0.45)
        starts = np.sort(np.r_[glaze.came, rng.uniform(glaze.came, room.days, many - 1)])
        for i, start in enumerate(starts):
            fresh = glaze.kind == "recipe"
            wrong = fresh and rng.random() < 0.05
            coarse = fresh and rng.random() > room.sieves
            rows.append({
                "glaze": g, "start": float(start), "name": f"{glaze.name} b{i + 1}"[:110],
                "wrong": (rng.choice([-1.0, 1.0]) * wrong) if fresh else 0.0,
                "part_bag": float(glaze.supplied == "dry" and not fresh and rng.random() < .35),
                "gravity": np.clip(rng.normal(1.47 if fresh else 1.52, .055), 1.3, 1.75),
                "mesh": rng.choice([30, 40, 60]) if coarse else rng.choice([80, 80, 100, 120]),
                "coarse": float(coarse) if fresh else 0.0,
                "revived": float(rng.random() < (.02 if fresh else .05)),
                "half_dry": float(rng.random() < (.04 if fresh else .08)),
                "shift": rng.normal(0, .12 if not fresh else .18),
            })  # fmt: skip
    return pd.DataFrame(rows)
