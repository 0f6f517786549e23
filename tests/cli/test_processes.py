"""The program as a person starts it: processes of their own, exit codes, pipes, the version."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from specreg import __version__


@pytest.fixture
def folder(tiny_issued_book: Path, tmp_path: Path) -> Path:
    """A folder with a book at revision A and nothing else."""
    shutil.copy(tiny_issued_book, tmp_path)
    return tmp_path


def specreg(folder: Path, *arguments: str, **environ: str) -> subprocess.CompletedProcess[str]:
    """Run the program in a folder, and wait for it."""
    own = {name: value for name, value in os.environ.items() if not name.startswith("SPECREG")}
    return subprocess.run(
        [sys.executable, "-m", "specreg", *arguments], cwd=folder, env={**own, **environ}, capture_output=True,
        text=True, check=False, stdin=subprocess.DEVNULL,
    )  # fmt: skip


def test_the_only_book_of_the_folder_is_taken(folder: Path) -> None:
    done = specreg(folder, "show", "4.1.2", "--json")
    assert (done.returncode, json.loads(done.stdout)["title"]) == (0, "Rack bolt")
    shutil.copy(folder / "works.specreg", folder / "other.specreg")
    done = specreg(folder, "show", "4.1.2")
    assert done.returncode == 2
    assert "several here: other.specreg, works.specreg" in done.stderr
    assert specreg(folder, "show", "4.1.2", SPECREG_BOOK="other.specreg").returncode == 0


@pytest.mark.parametrize(
    ("line", "code"),
    [
        (["check"], 0),
        (["show", "9.9"], 2),
        (["alter", "4.1.2", "Off=3"], 3),  # the login of whoever runs the tests is not in the book
        (["--version"], 0),
        (["--help"], 0),
        ([], 0),
        (["desk"], 2),
        (["nonsense"], 2),
        (["show"], 2),
    ],
)  # fmt: skip
def test_exit_codes_reach_the_shell(folder: Path, line: list[str], code: int) -> None:
    done = specreg(folder, *line)
    assert done.returncode == code, done.stderr
    assert "Traceback" not in done.stderr
    assert bool(done.stderr) == bool(code) or line == ["check"]


def test_the_version_is_that_of_the_package(folder: Path) -> None:
    assert specreg(folder, "--version").stdout == f"specreg {__version__}\n"
    assert specreg(folder, "--book", "x", "--version").stdout == f"specreg {__version__}\n"


def test_a_pipe_that_is_closed_early_is_no_fault(folder: Path) -> None:
    program = f"'{sys.executable}' -m specreg"
    done = subprocess.run(
        ["bash", "-c", f"{program} find - --limit 5000 | true; echo ${{PIPESTATUS[0]}}"],
        cwd=folder, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert "Traceback" not in done.stderr
    assert "BrokenPipe" not in done.stderr
    assert done.stdout.splitlines()[-1] == "0"


def test_ctrl_c_in_the_middle_of_a_round_leaves_the_book_usable(tmp_path: Path) -> None:
    import signal
    import time

    running = subprocess.Popen(
        [sys.executable, "-m", "specreg", "demo", "--no-screen", "--into", "d"], cwd=tmp_path,
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert running.stderr is not None
    assert "taking in the order" in running.stderr.readline()
    time.sleep(0.2)
    running.send_signal(signal.SIGINT)
    _, words = running.communicate(timeout=30)
    assert running.returncode == 3
    assert "broken off" in words
    assert not (tmp_path / "d" / "works.specreg").exists()


def test_a_name_given_by_the_environment_gives_nobody_leave(folder: Path) -> None:
    for name in ("USER", "LOGNAME", "USERNAME"):
        assert specreg(folder, "alter", "4.1.2", "Off=3", **{name: "jd"}).returncode == 3
