"""``tiles why`` by rules alone, as a whole process, against the libraries it is built on.

The bound is that of the requirement; run it alone and it prints what it measured:
``pytest tests/benchmark/test_why.py -s``.
"""

import subprocess
import sys
import time

import pytest

from tests.conftest import ROOT

pytestmark = [pytest.mark.slow, pytest.mark.alone]

MOST = 1.35
ROUNDS = 5


def seconds(*arguments):
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL, stdin=subprocess.DEVNULL, cwd=ROOT, check=True,
    )  # fmt: skip
    return time.perf_counter() - start


@pytest.mark.parametrize("mark", ["M-41", "M-101"])
def test_why_takes_little_longer_than_its_libraries(sample, mark, capsys):
    ours = theirs = float("inf")
    for _round in range(ROUNDS):
        ours = min(ours, seconds("-m", "tiles", "why", mark))
        theirs = min(theirs, seconds("-c", "import typer, sqlmodel"))
    with capsys.disabled():
        print(
            f"\n  tiles why {mark}: {ours * 1000:.0f} ms against typer and sqlmodel "
            f"{theirs * 1000:.0f} ms: {ours / theirs:.2f} times"
        )
    assert ours / theirs <= MOST
