"""Opens the screens over invented data, to be looked at: `python -m tests.tui.show [rows]`."""

from __future__ import annotations

import sys

from specreg.tui.run import run
from tests.tui.fake_reader import FakeBook

if __name__ == "__main__":
    run(FakeBook(rows=int(sys.argv[1]) if len(sys.argv) > 1 else 2500).open)
