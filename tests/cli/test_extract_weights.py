"""Weights on the extracts of the sample, through the command alone: every form says the same, and as the take-off."""

from __future__ import annotations

import csv
import io
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from pypdf import PdfReader

from specreg.core.measures.formatting import tons_and_hundredweights
from specreg.core.measures.written import read_mass
from tests.cli.conftest import Round
from tests.cli.shell import Shell

CASTING = "4.1.1"
"""A rack segment of cast steel: 5 cwt 2 qr 26 lb finished, 6 cwt 1 qr 22 lb rough, 25 ordered."""


@pytest.fixture(scope="module")
def written(round_trip: Round, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The buying office's extract of revision B in every form."""
    folder = tmp_path_factory.mktemp("weights")
    forms = [word for form in ("txt", "csv", "md", "xlsx", "pdf") for word in ("--format", form)]
    round_trip.shell.ok("extract", "BUY", "--at", "B", "--out", str(folder), *forms)
    return folder


def text(folder: Path, suffix: str) -> str:
    return (folder / f"C1187-B-BUY-2.{suffix}").read_text(encoding="utf-8")


def said(shell: Shell, code: str) -> dict[str, Any]:
    found: dict[str, Any] = shell.ok("extract", code, "--at", "B", "--json").json["extracts"][0]
    return found


def words(kilograms: str) -> str:
    found = read_mass(f"{kilograms} kg")
    return str(tons_and_hundredweights(found.value, nearest="lb"))  # type: ignore[union-attr]


def test_every_department_weighs_what_the_take_off_says(round_trip: Round) -> None:
    shell = round_trip.shell
    sums = shell.ok("take-off", "--at", "B", "--json").json["totals"]["departments"]
    there = {one["name"].split()[0]: one for one in sums}
    extracts = shell.ok("extract", "--all", "--at", "B", "--json").json["extracts"]
    assert len(extracts) == 13
    for one in extracts:
        for key in ("mass_kg", "to_order_kg", "without_weight"):
            assert one[key] == there[one["department"]][key], (one["department"], key)


def test_an_older_revision_weighs_as_it_said_it(round_trip: Round) -> None:
    shell = round_trip.shell
    for letter in ("A", "B"):
        (one,) = shell.ok("extract", "FDY", "--at", letter, "--json").json["extracts"]
        sums = shell.ok("take-off", "--at", letter, "--json").json["totals"]["departments"]
        assert one["mass_kg"] == next(there["mass_kg"] for there in sums if there["name"].startswith("FDY "))


def test_text_and_markdown_say_each_and_all_and_the_totals_with_the_cautions(round_trip: Round, written: Path) -> None:
    total = words(said(round_trip.shell, "BUY")["mass_kg"])
    each_and_all = "Weight: each 5 cwt 2 qr 26 lb, all 7 tons 3 cwt 1 qr 6 lb"
    rough = "Rough weight: each 6 cwt 1 qr 22 lb, all 8 tons 1 cwt 0 qr 18 lb"
    for form in ("txt", "md"):
        told = " ".join(re.sub(r"[│|]|<br>|\\", " ", text(written, form)).split())
        assert f"{total} finished" in told
        assert each_and_all in told
        assert rough in told
        assert "Weights, lengths and order quantities are estimates for planning" in told
    assert max(map(len, text(written, "txt").splitlines())) <= 80


def test_the_columns_of_a_table_add_to_the_totals(round_trip: Round, written: Path) -> None:
    found = said(round_trip.shell, "BUY")
    rows = list(csv.DictReader(io.StringIO((written / "C1187-B-BUY-2.csv").read_bytes().decode(), newline="")))
    sheet = load_workbook(written / "C1187-B-BUY-2.xlsx").worksheets[1]
    heads, *lines = sheet.iter_rows(values_only=True)
    numbers = {row[heads.index("Item")]: dict(zip(heads, row, strict=True)) for row in lines}
    # Each row is rounded once, to half a gram.
    nearly = Decimal("0.0005") * len(rows)
    for key, head in (("total_kg", "Total, kg"), ("to_order_kg", "To order, kg")):
        total = Decimal(found[{"total_kg": "mass_kg"}.get(key, key)])
        assert abs(sum(Decimal(row[key] or 0) for row in rows) - total) <= nearly
        assert abs(sum(Decimal(str(row[head] or 0)) for row in numbers.values()) - total) <= nearly
    casting = next(row for row in rows if row["number"] == CASTING)
    assert (casting["mass_kg"], casting["weight"], casting["standing"]) == ("291.206", "5 cwt 2 qr 26 lb", "weighed")
    assert (numbers[CASTING]["One, kg"], numbers[CASTING]["Weight"]) == (291.206, "5 cwt 2 qr 26 lb")


def test_the_sheets_of_paper_bear_them_in_columns(round_trip: Round, written: Path) -> None:
    pages = [re.sub(r"\s+", " ", page.extract_text()) for page in PdfReader(written / "C1187-B-BUY-2.pdf").pages]
    total = words(said(round_trip.shell, "BUY")["mass_kg"])
    assert f"{total} finished" in pages[0]
    sheet = next(page for page in pages if "Rack segment" in page)
    assert "5 cwt 2 qr 26 lb 7 tons 3 cwt 1 qr 6 lb 6 cwt 1 qr 22 lb 8 tons 1 cwt 0 qr 18 lb" in sheet
    # Every sheet that tells a weight warns.
    assert all("Caution" in page for page in pages if re.search(r"\b(qr|cwt)\b", page))
