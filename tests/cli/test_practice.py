"""`practice` from the command line: a book of its own in a folder of its own, and what to try with it."""

from __future__ import annotations

from pathlib import Path

import pytest

from specreg.cli.main import run

pytestmark = pytest.mark.slow


def test_a_practice_book_is_made_and_says_what_to_try(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["practice", "--no-screen", "--name", "A. Learner"]) == 0
    said = capsys.readouterr()
    assert "Order PRACTICE C 1187, revisions A, B, C: nothing in this book is for the shops." in said.out
    assert "has mistakes put in on purpose" in said.out
    assert "specreg find rack bo" in said.out
    assert (tmp_path / "specreg-practice" / "practice.specreg").is_file()
    assert "\r" not in said.err, "no progress where nobody watches"
    assert run(["practice", "--no-screen"]) == 0
    assert (tmp_path / "specreg-practice-2" / "practice.specreg").is_file()
