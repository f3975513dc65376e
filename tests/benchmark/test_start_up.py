"""Start-up: whole processes against the libraries they cannot do without, within one run.

A ratio holds on any machine; run it alone and it prints what it measured:
``pytest tests/benchmark/test_start_up.py -s``.
"""

import statistics
import subprocess
import sys
import time

import pytest

from tests.conftest import ROOT

pytestmark = [pytest.mark.slow, pytest.mark.alone]

ROUNDS = 6
LIBRARIES = "import typer, sqlmodel"
CASES = {
    # name: (arguments, what it is measured against, at most so many times as long)
    "--help": (["--help"], "import typer", 3.0),
    # It also reads the tiles of the glaze that crazed late, to say which were looked at too early.
    "find": (["find", "--clean", "--cone", "05"], LIBRARIES, 2.3),
    "why": (["why", "M-41"], LIBRARIES, 2.5),
}


def seconds(*arguments):
    start = time.perf_counter()
    subprocess.run(
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, stdin=subprocess.DEVNULL,
        cwd=ROOT, check=True,
    )  # fmt: skip
    return time.perf_counter() - start


@pytest.mark.parametrize("name", CASES)
def test_a_command_takes_little_longer_than_its_libraries(sample, name, capsys):
    arguments, library, most = CASES[name]
    seconds("-m", "tiles", *arguments)  # compiled files are written once
    pairs = [
        (seconds("-m", "tiles", *arguments), seconds("-c", library)) for _round in range(ROUNDS)
    ]
    # The quickest of each: what the work costs when nothing else runs in between.
    ours, theirs = (min(times) for times in zip(*pairs, strict=True))
    spread = statistics.median(ours for ours, _ in pairs)
    with capsys.disabled():
        print(
            f"\n  tiles {name}: {ours * 1000:.0f} ms (median {spread * 1000:.0f}) against "
            f"{library!r} {theirs * 1000:.0f} ms: {ours / theirs:.2f} times"
        )
    assert ours / theirs <= most
