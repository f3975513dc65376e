"""A person at a terminal: a pseudo-terminal that counts every key it sends."""

import multiprocessing
import os
import re
import signal
import sys
import time

import pytest

from tests.conftest import ROOT
from tiles.cli.ask import READ_WITHIN

ENTER = "\r"
CTRL_C = "\x03"
LINES_AND_COLUMNS = (40, 120)
ON_WINDOWS = sys.platform == "win32"

if not ON_WINDOWS:
    import termios
    from multiprocessing.reduction import DupFd

    from pexpect import EOF
    from pexpect.fdpexpect import fdspawn

    # A hundred walks would spend more on loading than on walking: each starts as a copy of a
    # process that has loaded what they need and run nothing. What a start loads has tests of its
    # own.
    _loaded = multiprocessing.get_context("forkserver")
    _loaded.set_forkserver_preload(
        [
            "tiles.cli.main",
            "tiles.cli.ask_log",
            "tiles.cli.firing",
            "tiles.cli.log",
            "tiles.cli.unload",
            "tiles.records.database",
            "tiles.records.store",
            "tiles.queries.summaries",
            "diagnose.report",
            "sqlalchemy.dialects.sqlite",
        ]
    )


class Keyboard:
    """Runs one command on a pseudo-terminal; before it, what Python ``runs`` in its process."""

    def __init__(self, *arguments: object, runs: str = ""):
        if ON_WINDOWS:
            pytest.skip("there is no pseudo-terminal on Windows")
        self.keys = 0
        screen, terminal = os.openpty()
        termios.tcsetwinsize(terminal, LINES_AND_COLUMNS)
        environment = {**os.environ, "TERM": "dumb"}
        asked = (DupFd(terminal), list(map(str, arguments)), environment, runs)
        self.process = _loaded.Process(target=_run, args=asked, daemon=True)
        self.process.start()
        os.close(terminal)
        self.child = fdspawn(screen, encoding="utf-8", timeout=20)
        self.child.delaybeforesend = None

    def sees(self, text: str) -> None:
        """Wait until this text appears, wherever the terminal breaks its line."""
        self.child.expect(r"\s+".join(map(re.escape, re.split(" +", text))))

    def press(self, *keys: str) -> None:
        """Press keys, one after the other."""
        for each in keys:
            self.keys += len(each)
            self.child.send(each)

    def interrupts(self) -> None:
        """Press Ctrl-C, as a person does: not in the very instant in which a question appears."""
        time.sleep(0.2)
        self.press(CTRL_C)

    def reads(self, question: str) -> None:
        """Wait for a question, and take the time in which a person reads it."""
        self.sees(question)
        time.sleep(READ_WITHIN + 0.1)

    def answers(self, question: str, text: str = "") -> None:
        """Type an answer to a question, and Enter."""
        self.sees(question)
        self.press(text, ENTER)

    def ends(self) -> tuple[int, str]:
        """Wait for the end. Gives the exit code and what was still said."""
        self.child.expect(EOF)
        said = self.child.before
        self.child.close()
        self.process.join()
        return self.process.exitcode, said.replace("\r\n", "\n")


def _run(terminal: "DupFd", arguments: list[str], environment: dict[str, str], runs: str) -> None:
    """The command in a process of its own, with the terminal as its own."""
    os.login_tty(terminal.detach())
    sys.stdin = os.fdopen(0, closefd=False)
    sys.stdout.reconfigure(line_buffering=True)
    os.chdir(ROOT)
    os.environ.clear()
    os.environ.update(environment)
    signal.signal(signal.SIGINT, signal.default_int_handler)
    sys.argv = ["tiles", *arguments]
    exec(runs)
    from tiles.__main__ import main

    main()
