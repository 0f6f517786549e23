"""The way in. Asked for its version only, the program loads nothing else."""

from __future__ import annotations

import gc
import sys


def collect_seldom() -> None:
    """Look for rubbish seldom: a command makes many records and throws few away, and saves a tenth of its time so."""
    gc.set_threshold(50_000, 20, 50)


def main() -> None:
    """Run the program; leaves with the exit code of the command."""
    if sys.argv[1:] == ["--version"]:
        from specreg import __version__

        sys.stdout.write(f"specreg {__version__}\n")
        return
    from specreg.cli.main import run

    collect_seldom()
    sys.exit(run())


if __name__ == "__main__":
    main()
