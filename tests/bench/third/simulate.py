"""One studio of the third kind, in the shape in which the bench judges the others."""

from dataclasses import dataclass

import numpy as np
import pandas as pd

from tests.bench.simulate import Simulated
from tests.bench.third import causes_body, causes_melt, glazes, making, recording, seeing, world
from tests.bench.third.tools import DEFECTS
from tiles.exchange.flat_columns import SEVERITY_WORDS, columns, defect_column

GLAZE_SD, BODY_SD, FIRING_SD, TILE_SD = 0.12, 0.06, 0.06, 0.12
"""Unrecorded effects on the log of a defect's hazard, set by measurement."""

STEEP, FULL = 2.5, 2.8
"""How sharply a mechanism acts: its hazard h becomes FULL * h**STEEP; set by measurement."""


def _hidden(rng, areas, room, bodies, jars, buckets) -> pd.DataFrame:
    """Everything a mechanism looks at, one row an area."""
    g = jars.iloc[areas["glaze"]].reset_index(drop=True)
    b = bodies.iloc[areas["body"]].reset_index(drop=True)
    k = buckets.iloc[areas["bucket"]].reset_index(drop=True)
    x = areas.copy()
    for name in ("finish", "colour_class", "lithia", "shrinks", "opacifier", "carbonate", "loi",
                 "crystals", "ratio", "boron", "alumina", "zinc", "magnesia", "lime", "opaque",
                 "sensitive", "fades", "melts"):  # fmt: skip
        x[name] = g[name].to_numpy()
    x["g_low"], x["g_high"] = g["low"], g["high"]
    for name in ("low", "high", "gas", "iron", "carbon", "lime", "grog", "silica", "spare",
                 "type", "colour"):  # fmt: skip
        x[f"b_{name}"] = b[name].to_numpy()
    for name in ("wrong", "part_bag", "revived", "half_dry", "coarse"):
        x[name] = k[name].to_numpy()
    x["low"] = areas["band"] == "low"
    x["humid"] = room.humid
    x["batch_shift"] = k["shift"] + 0.35 * np.clip(k["wrong"], 0, 1)
    immature = np.clip(b["low"] - areas["heat"], 0, 12)
    x["absorbs"] = b["absorption"] + np.where(b["kind"] == "earthenware", 1.0, 1.4) * immature
    x["margin"] = g["exp"] + k["shift"] - b["exp"] + 0.06 * np.minimum(immature, 9)
    x["melts"] = x["melts"] - 0.9 * x["wrong"]
    x["short"] = x["melts"] - x["heat"]
    x["over"] = x["heat"] - g["over_at"] + 0.3 * np.clip(x["wrong"], 0, 1)
    x["short_kiln"] = areas["target"] - areas["heat"]
    under = jars.iloc[np.maximum(areas["under"], 0)].reset_index(drop=True)
    with_over = np.where(areas["overlap"], 0.22 + 0.35 * np.clip(under["fluid"], 0, 1), 0)
    x["fluid"] = np.clip(g["fluid"] + with_over + .15 * np.clip(x["heat"] - x["melts"], -2, 3)
                         - .15, 0, 1.5)  # fmt: skip
    x["refractory"] = np.where(areas["over_colour"], under["refractory"], 0.0)
    x["dark"] = np.isin(g["colour_class"], ["black", "iron", "chrome", "cobalt"]).astype(float)
    x["raw_pitted"] = (rng.random(len(x)) < 0.05 + 0.08 * (areas["bisque_heat"] < 15.5)).astype(
        float
    )
    x["wrong_jar"] = (rng.random(len(x)) < 0.012).astype(float)
    flags = x.select_dtypes(bool).columns.difference(["low"])
    x[flags] = x[flags].astype(float)
    return x


def _frailty(rng, areas: pd.DataFrame) -> np.ndarray:
    """A factor of mean 1 on the hazard: unknown ways of each glaze, body, firing and tile."""
    log = np.zeros(len(areas))
    for of, sd in (("glaze", GLAZE_SD), ("body", BODY_SD), ("firing", FIRING_SD),
                   ("tile", TILE_SD)):  # fmt: skip
        effect = rng.normal(0, sd, int(areas[of].max()) + 1)
        log += effect[areas[of]] - sd**2 / 2
    return np.exp(log)


def simulate(n_tiles: int, seed: int) -> Simulated:
    """One invented studio of ``n_tiles`` tiles; the same seed gives the same studio.

    Returns
    -------
    Simulated
        The truth has for each defect ``chance:``, ``noted:``, ``real:``, ``cause:`` and
        ``deciding:``, as in the other benches; causes go by words of their own.
    """
    rng = np.random.default_rng([seed, 20261128])
    room = world.make_room(rng, n_tiles)
    people, kilns = world.make_people(rng, room), world.make_kilns(rng, room)
    firings = world.make_firings(rng, room, kilns, n_tiles)
    bisques = world.make_bisques(rng, room, len(firings))
    bodies = world.make_bodies(rng, room)
    jars = glazes.make_glazes(rng, room, n_tiles)
    buckets = glazes.make_buckets(rng, room, jars)
    tiles = making.make_tiles(rng, n_tiles, room, people, kilns, firings, bisques, bodies, jars)
    areas = making.make_areas(rng, room, tiles, people, buckets, bodies, jars)
    hidden = _hidden(rng, areas, room, bodies, jars, buckets)
    came = {defect: _fire(rng, defect, hidden, areas) for defect in DEFECTS}
    noted, severity = seeing.written(
        rng,
        room,
        people,
        hidden,
        {d: each.is_there for d, each in came.items()},
        {d: each.hazard for d, each in came.items()},
    )
    frame = recording.make_frame(
        rng,
        room,
        people,
        kilns,
        firings,
        bisques,
        bodies,
        jars,
        buckets,
        hidden,
        severity,
        {d: each.cause for d, each in came.items()},
    )
    return Simulated(_flat(frame), _truth(came, noted), DEFECTS)


@dataclass
class _Came:
    """What became of one defect, one value an area."""

    hazard: np.ndarray
    is_there: np.ndarray
    cause: np.ndarray
    deciding: np.ndarray


def _fire(rng, defect: str, hidden: pd.DataFrame, areas: pd.DataFrame) -> _Came:
    word = defect.replace(" ", "_")
    act = getattr(causes_body, word, None) or getattr(causes_melt, word)
    names, acts, deciding = zip(*act(hidden), strict=True)
    each = np.array([np.asarray(h, dtype=float) for h in acts]).clip(0)
    is_named = np.array([name != "other" for name in names])[:, None]
    each = np.where(is_named, FULL * each**STEEP, each)
    hazard = each.sum(axis=0) * _frailty(rng, areas)
    is_there = rng.random(len(hidden)) < 1 - np.exp(-hazard)
    share = np.cumsum(each / each.sum(axis=0), axis=0)
    which = (rng.random(len(hidden)) > share).sum(axis=0).clip(0, len(names) - 1)

    def where_it_came(words) -> np.ndarray:
        return np.where(is_there, np.array(words, dtype=object)[which], "")

    return _Came(hazard, is_there, where_it_came(names), where_it_came(deciding))


def _truth(came: dict[str, _Came], noted: dict[str, np.ndarray]) -> pd.DataFrame:
    truth = {}
    for defect, each in came.items():
        name = defect_column(defect)
        truth[f"chance:{name}"] = 1 - np.exp(-each.hazard)
        truth[f"noted:{name}"] = noted[defect]
        truth[f"real:{name}"] = each.is_there
        truth[f"cause:{name}"] = each.cause
        truth[f"deciding:{name}"] = each.deciding
    return pd.DataFrame(truth)


def _flat(frame: pd.DataFrame) -> pd.DataFrame:
    """The frame with every flat column, and severities in words."""
    found = frame.reindex(columns=[each.name for each in columns()])
    for name in found:
        if name.startswith("defect_"):
            found[name] = found[name].map(dict(enumerate(SEVERITY_WORDS))).astype(object)
    return found
