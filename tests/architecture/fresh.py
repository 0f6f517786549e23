"""Running the program in a fresh interpreter, and asking which modules it has loaded."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

_ASK = """
import contextlib, io, json, sys
sys.argv = ["specreg", *json.loads(sys.argv[1])]
from specreg.__main__ import main
with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
    try:
        main()
    except SystemExit as left:
        code = left.code
    else:
        code = 0
print(json.dumps([code, sorted(sys.modules)]))
"""


def modules_after(*arguments: str) -> tuple[int, set[str]]:
    """The exit code of a command line, and every module that the interpreter then held."""
    asked = [sys.executable, "-c", _ASK, json.dumps(arguments)]
    done = subprocess.run(asked, capture_output=True, text=True, check=True, cwd=ROOT)
    code, modules = json.loads(done.stdout.splitlines()[-1])
    return int(code or 0), set(modules)


def heads(modules: set[str]) -> set[str]:
    """The packages of the first level."""
    return {name.partition(".")[0] for name in modules}
