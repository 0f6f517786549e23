"""Work done by another process at the same book.

A forked process must not use a connection made before it was forked: close the book first.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable

from specreg.core.errors import Refused


def started(code: str, *arguments: object) -> subprocess.Popen[str]:
    """A new Python that runs `code` with `sys.argv[1:]` as given, and talks by its standard input and output."""
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, arguments)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )


class Forked:
    """A process forked to do `work`; `said()` waits for it and gives what it returned, `killed by N`, or its error."""

    def __init__(self, work: Callable[[], object]) -> None:
        self._answer, write_end = os.pipe()
        self._child = os.fork()
        if self._child == 0:
            try:
                said = str(work())
            except Refused as refusal:
                said = str(refusal)
            except BaseException as error:
                said = f"failed: {error!r}"
            os.write(write_end, said.encode())
            os._exit(0)
        os.close(write_end)

    def said(self) -> str:
        """What came of it."""
        with os.fdopen(self._answer, encoding="utf-8") as answer:
            said = answer.read()
        _, status = os.waitpid(self._child, 0)
        return f"killed by {os.WTERMSIG(status)}" if os.WIFSIGNALED(status) else said


def without_rights(work: Callable[[], object]) -> str:
    """What `work` says when done by somebody to whom the rights of files apply: root may write to anything."""

    def humbly() -> object:
        if os.geteuid() == 0:
            os.setgid(65534)
            os.setuid(65534)
        return work()

    return Forked(humbly).said()
