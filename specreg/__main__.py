"""The way in. Asked for its version only, the program loads nothing else."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the program; leaves with the exit code of the command."""
    if sys.argv[1:] == ["--version"]:
        from specreg import __version__

        sys.stdout.write(f"specreg {__version__}\n")
        return
    from specreg.cli.main import run

    sys.exit(run())


if __name__ == "__main__":
    main()
