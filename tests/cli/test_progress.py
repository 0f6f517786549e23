"""What is being done is told on a terminal, and only there."""

from __future__ import annotations

import io
import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

from specreg.cli.output import progress

LONG_WORK = (
    ("check", "checking ..."),
    ("allocate", "allocating ..."),
    ("verify", "proving every digest and seal ..."),
    ("take-off", "taking off ..."),
    ("order-list", "gathering what is to be ordered ..."),
)


def on_terminal(book: Path, command: str) -> str:
    """What a command writes to the error output of a terminal."""
    leader, follower = pty.openpty()
    try:
        subprocess.run((sys.executable, "-m", "specreg", "--book", str(book), command), stdout=subprocess.DEVNULL,
                       stderr=follower, stdin=subprocess.DEVNULL, check=False)  # fmt: skip
        os.close(follower)
        return os.read(leader, 1 << 16).decode()
    finally:
        os.close(leader)


@pytest.mark.parametrize(("command", "words"), LONG_WORK)
def test_long_work_says_what_it_does_on_a_terminal_and_wipes_it_away(
    tiny_issued_book: Path, command: str, words: str
) -> None:
    said = on_terminal(tiny_issued_book, command)
    told, _, wiped = said.partition(words)
    assert told == "\r"
    assert f"\r{' ' * len(words)}" in wiped


@pytest.mark.parametrize(("command", "words"), LONG_WORK)
def test_and_nothing_of_it_when_it_is_piped(tiny_issued_book: Path, command: str, words: str) -> None:
    done = subprocess.run((sys.executable, "-m", "specreg", "--book", str(tiny_issued_book), command),
                          capture_output=True, text=True, check=False)  # fmt: skip
    assert words not in done.stderr + done.stdout
    assert "\r" not in done.stderr


def test_a_count_leaves_nothing_of_itself_before_the_next_words(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr(sys, "stderr", shown := Terminal())
    show = progress()
    assert show is not None
    for done in range(3893):
        show("numbering", done, 3892)
    assert "numbering 3700 of 3892" in shown.getvalue()
    *_, wiped, after = shown.getvalue().split("\r")
    assert (wiped.strip(), after) == ("", "")
    assert len(wiped) >= len("numbering 3700 of 3892")
