"""Start-up: whole processes against the libraries they cannot do without, within one run.

A ratio holds on any machine, and processor time is little moved by what runs beside it; run it
alone and it prints what it measured: ``pytest tests/benchmark/test_start_up.py -s``.
"""

import statistics
import subprocess
import sys

import pytest

from tests.conftest import ROOT

pytestmark = [pytest.mark.slow, pytest.mark.alone]

resource = pytest.importorskip("resource")  # there is none on Windows

ROUNDS = 7
LIBRARIES = "import typer, sqlmodel"
CASES = {
    # name: (arguments, what it is measured against, at most so many times as long)
    "--help": (["--help"], "import typer", 3.0),
    # It also reads the tiles of the glaze that crazed late, to say which were looked at too early.
    "find": (["find", "--clean", "--cone", "05"], LIBRARIES, 2.2),
    # Rules alone: the bound is that of the requirement.
    "why M-41": (["why", "M-41"], LIBRARIES, 1.35),
    "why M-101": (["why", "M-101"], LIBRARIES, 1.35),
}


def seconds(*arguments):
    """Processor time of one process."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [sys.executable, *arguments],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, stdin=subprocess.DEVNULL,
        cwd=ROOT, check=True,
    )  # fmt: skip
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


@pytest.mark.parametrize("name", CASES)
def test_a_command_takes_little_longer_than_its_libraries(sample, name, capsys):
    arguments, library, most = CASES[name]
    seconds("-m", "tiles", *arguments)  # compiled files are written once
    pairs = [
        (seconds("-m", "tiles", *arguments), seconds("-c", library)) for _round in range(ROUNDS)
    ]
    # Two that run one after the other find the machine alike; the middle of them is no outlier.
    ratio = statistics.median(ours / theirs for ours, theirs in pairs)
    ours, theirs = (statistics.median(times) for times in zip(*pairs, strict=True))
    with capsys.disabled():
        print(
            f"\n  tiles {name}: {ours * 1000:.0f} ms against {library!r} {theirs * 1000:.0f} ms: "
            f"{ratio:.2f} times"
        )
    assert ratio <= most
