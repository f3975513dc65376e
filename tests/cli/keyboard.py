"""A person at a terminal: a pseudo-terminal that counts every key it sends."""

import os
import re
import signal
import sys
import time

import pexpect

from tests.conftest import ROOT
from tiles.cli.ask import READ_WITHIN

ENTER = "\r"
CTRL_C = "\x03"


class Keyboard:
    """Runs one command on a pseudo-terminal; before it, what Python ``runs`` in its process."""

    def __init__(self, *arguments: object, runs: str = ""):
        self.keys = 0
        program = (
            ["-c", f"{runs}; import tiles.__main__ as m; m.main()"] if runs else ["-m", "tiles"]
        )
        self.child = pexpect.spawn(
            sys.executable,
            [*program, *map(str, arguments)],
            cwd=ROOT,
            env={**os.environ, "TERM": "dumb"},
            encoding="utf-8",
            timeout=20,
            dimensions=(40, 120),
            # Tests that run in the background were started with Ctrl-C ignored; a person was not.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )
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
        self.child.expect(pexpect.EOF)
        said = self.child.before
        self.child.close()
        return self.child.exitstatus, said.replace("\r\n", "\n")
