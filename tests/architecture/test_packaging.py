"""The program as it is installed: a wheel that needs no checkout, and the checkout itself."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.architecture.fresh import ROOT

pytestmark = pytest.mark.slow

DONE = "Order C 1187"


def run(*words: str | Path, folder: Path) -> str:
    """Run a program in a folder, without any path to this checkout; returns its standard output."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "SPECREG"))}
    line = [str(word) for word in words]
    done = subprocess.run(line, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, f"{words}: {done.returncode}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from a copy of the sources, so that nothing is left behind in the checkout."""
    folder = tmp_path_factory.mktemp("sources")
    for name in ("specreg", "shared", "sample_spec"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, folder)
    run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", folder=folder)
    (built,) = (folder / "dist").glob("specreg-*.whl")
    return built


def test_a_wheel_holds_the_program_its_schema_the_standards_and_the_sample(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    assert {"specreg/__main__.py", "specreg/shared/house.toml", "specreg/sample_spec/order.toml"} <= names
    assert any(name.startswith("specreg/store/") and name.endswith(".sql") for name in names)
    assert {"specreg/output/sheets.typ", "specreg/output/widths.typ"} <= names
    assert not any(name.startswith(("tests/", "shared/", "sample_spec/")) for name in names)


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The program of a new environment in which only the wheel is installed.

    The libraries it needs are those of this environment, by a path file: what is tested is that the program itself
    comes from the wheel and finds all it needs in it.
    """
    folder = tmp_path_factory.mktemp("installed")
    run(sys.executable, "-m", "venv", "--without-pip", folder / "venv", folder=folder)
    (packages,) = (folder / "venv" / "lib").glob("python*/site-packages")
    run(
        sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--no-index", "--target", packages, wheel,
        folder=folder,
    )  # fmt: skip
    import click

    libraries = Path(click.__file__).resolve().parents[1]
    links = folder / "libraries"
    links.mkdir()
    for path in libraries.iterdir():
        # All but the editable install of the checkout.
        if "specreg" not in path.name and path.suffix != ".pth":
            (links / path.name).symlink_to(path)
    (packages / "libraries.pth").write_text(f"{links}\n", encoding="utf-8")
    return folder / "venv" / "bin" / "python"


def test_the_wheel_goes_the_whole_round_from_any_folder(installed: Path, tmp_path: Path) -> None:
    where = run(installed, "-c", "import specreg; print(specreg.__file__)", folder=tmp_path).strip()
    assert str(ROOT) not in where
    out = run(installed, "-m", "specreg", "demo", "--no-screen", "--into", "here", folder=tmp_path)
    assert DONE in out
    assert "every seal and digest agrees" in out
    assert len(list((tmp_path / "here" / "extracts").iterdir())) == 78
    assert "78 files" in out
    found = run(installed, "-m", "specreg", "find", "rack", "bolt", folder=tmp_path / "here")
    assert "4.1.2" in found


def test_the_checkout_goes_the_whole_round_from_any_folder(tmp_path: Path) -> None:
    program = Path(sys.executable).with_name("specreg")
    out = run(program, "demo", "--no-screen", folder=tmp_path)
    assert DONE in out
    assert (tmp_path / "specreg-demo" / "works.specreg").is_file()
    run(program, "demo", "--no-screen", folder=tmp_path)
    assert (tmp_path / "specreg-demo-2" / "works.specreg").is_file()
    version = run(program, "--version", folder=tmp_path)
    assert version.startswith("specreg ")
