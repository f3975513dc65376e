"""Run the bench: ``python -m tests.bench.run --sizes 30 100 300 1000 --studios 40 30 20 12``.

``--forecaster package.module:Name`` adds one to the baselines (repeat for several). The name is
called without arguments and gives an object with ``fit(frame)`` and ``predict_proba(frame)``; a
module with a function ``fit(frame)`` that returns a model is good too. ``--bench second`` and
``--bench third`` judge on studios whose mechanisms were written apart from the rules, ``company``
on classes whose glazes have habits that no rule knows.
"""

import argparse
import importlib
import time
from collections.abc import Callable
from types import ModuleType

import pandas as pd

from tests.bench import baselines, company, score, simulate
from tests.bench.second import simulate as second
from tests.bench.splits import SPLITS
from tests.bench.third import simulate as third

BASELINES = {"glaze rate": baselines.GlazeRate, "plain logistic": baselines.PlainLogistic}
BENCHES = {
    "first": simulate.simulate,
    "second": second.simulate,
    "third": third.simulate,
    "company": company.simulate,
}


def named(text: str) -> Callable:
    """The forecaster that ``package.module:Name`` (or ``package.module``) stands for."""
    module, _, name = text.partition(":")
    found = importlib.import_module(module)
    found = getattr(found, name) if name else found
    return (lambda: found) if isinstance(found, ModuleType) else found


def table(
    n_tiles: int, studios: int, makers: dict, split: str, first_seed: int = 0, bench="first"
) -> pd.DataFrame:
    """The comparison of all forecasters at one size under one split."""
    made = (BENCHES[bench](n_tiles, first_seed + seed) for seed in range(studios))
    return score.compare(made, makers, split)


def main(arguments: list[str] | None = None) -> None:
    """Print one table for each split and size."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--sizes", type=int, nargs="+", default=[30, 100, 300, 1000])
    parser.add_argument("--studios", type=int, nargs="+", default=[40, 30, 20, 12])
    parser.add_argument("--splits", nargs="+", choices=SPLITS, default=list(SPLITS))
    parser.add_argument("--forecaster", action="append", default=[], metavar="MODULE:NAME")
    parser.add_argument("--no-baselines", action="store_true", help="only base rate and oracle")
    parser.add_argument("--first-seed", type=int, default=0, help="use other studios")
    parser.add_argument("--bench", choices=BENCHES, default="first", help="which studios")
    told = parser.parse_args(arguments)
    if len(told.sizes) != len(told.studios):
        parser.error("one number of studios for each size")
    makers = ({} if told.no_baselines else BASELINES) | {t: named(t) for t in told.forecaster}
    pd.set_option("display.width", 160)
    for split in told.splits:
        for n_tiles, studios in zip(told.sizes, told.studios, strict=True):
            start = time.perf_counter()
            found = table(n_tiles, studios, makers, split, told.first_seed, told.bench)
            seconds = time.perf_counter() - start
            print(f"\n{split}, {n_tiles} tiles, {studios} studios ({seconds:.0f} s)")
            print(found.round(3).to_string())


if __name__ == "__main__":
    main()
