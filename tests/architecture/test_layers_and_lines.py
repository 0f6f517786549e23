"""The rules of the house for the code itself: layers, small files, thin edges, nothing printed by the way."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from tests.architecture.fresh import ROOT

PACKAGE = ROOT / "specreg"
FILES = sorted(PACKAGE.rglob("*.py"))
MOST_LINES = 500
MOST_LINES_OF_THE_APP = 150
MOST_LINES_OF_A_COMMAND = 40
MOST_LINES_OF_A_CLI_FILE = 220


def name_of(path: Path) -> str:
    """A file's name within the checkout."""
    return str(path.relative_to(ROOT))


def tree_of(path: Path) -> ast.Module:
    """A file as Python reads it."""
    return ast.parse(path.read_text(encoding="utf-8"))


def test_imports_run_one_way() -> None:
    checker = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([str(checker), "--no-cache"], capture_output=True, text=True, check=False, cwd=ROOT)
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    assert "0 broken" in done.stdout


@pytest.mark.parametrize("path", FILES, ids=name_of)
def test_files_are_small_and_say_what_they_are_for(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES
    assert ast.get_docstring(tree_of(path)), f"{name_of(path)} does not say what it is for"


def test_nothing_prints_by_the_way() -> None:
    calls = [
        f"{name_of(path)}:{node.lineno}"
        for path in FILES
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"
    ]
    assert calls == []


def test_nothing_is_called_at_import_in_the_core() -> None:
    """No file, no clock and no environment is touched when the core is imported."""
    touched = {"open", "getenv", "environ", "now", "today", "cwd", "read_text", "glob"}
    found = [
        f"{name_of(path)}: {sorted(touched & named)}"
        for path in FILES
        if "core" in path.parts
        for statement in tree_of(path).body
        if not isinstance(statement, ast.FunctionDef | ast.ClassDef)
        for named in [{node.attr for node in ast.walk(statement) if isinstance(node, ast.Attribute)}]
        if touched & named
    ]
    assert found == []


@pytest.mark.parametrize("path", sorted((PACKAGE / "cli").glob("*.py")), ids=name_of)
def test_commands_are_thin(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES_OF_A_CLI_FILE
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.FunctionDef):
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            # The record of an item has a line a key.
            most = 55 if node.name == "extract" else MOST_LINES_OF_A_COMMAND
            assert length <= most, f"{name_of(path)}: {node.name} has {length} lines"


def test_the_app_only_hangs_the_screens_together() -> None:
    assert len((PACKAGE / "tui" / "app.py").read_text(encoding="utf-8").splitlines()) <= MOST_LINES_OF_THE_APP


def test_public_functions_and_classes_are_described() -> None:
    bare = [
        f"{name_of(path)}: {node.name}"
        for path in FILES
        for node in tree_of(path).body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
    ]
    assert bare == []


def test_records_of_the_core_are_frozen() -> None:
    """Every dataclass of the core is frozen: an alteration makes a new record."""
    loose = [
        f"{name_of(path)}: {node.name}"
        for path in FILES
        if "core" in path.parts
        for node in tree_of(path).body
        if isinstance(node, ast.ClassDef)
        for mark in node.decorator_list
        if "dataclass" in ast.unparse(mark) and "frozen=True" not in ast.unparse(mark)
    ]
    assert loose == []


def test_no_file_has_a_name_that_says_nothing() -> None:
    bad = {"utils", "util", "helpers", "helper", "manager", "misc", "common", "base"}
    assert [name_of(path) for path in FILES if path.stem in bad] == []
