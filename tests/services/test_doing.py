"""What the screens have done: extracts made and written department by department, told, stopped, refused."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from specreg.bootstrap import doer, open_office
from specreg.core.errors import NotFound, NotPermitted, Refused, WrongUse
from specreg.output.files import written
from specreg.services.doing import OfficeDoer
from specreg.services.doings import Doer, ExtractsMade, Progress
from specreg.services.extracting import make_extracts
from specreg.services.office import Office
from specreg.settings import Settings
from specreg.store import day_book, revisions
from tests.services.office_for_tests import Clock, second_program, with_order, with_revision_a


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    """The practice order at revision A."""
    made = with_revision_a(tmp_path)
    yield made
    made.book.close()


def doer_of(office: Office, code: str = "JD") -> Doer:
    """The doer of one person, whose every act opens the book again."""
    return OfficeDoer(lambda: second_program(office, code))


def done(
    office: Office,
    codes: Sequence[str] = (),
    forms: Sequence[str] = ("txt",),
    folder: str = "extracts",
    code: str = "JD",
    told: Callable[[Progress], None] = lambda _: None,
    stopped: Callable[[], bool] = lambda: False,
) -> ExtractsMade:
    return doer_of(office, code).extract(codes, forms, folder, told, stopped)


def made_of(office: Office) -> list[tuple[str, int]]:
    return [(one.department, one.number) for one in revisions.extracts_of(office.book, office.order_id)]


def files_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_every_department_is_made_and_written_with_a_sentence(office: Office, tmp_path: Path) -> None:
    steps: list[Progress] = []
    found = done(office, told=steps.append)
    assert steps == [
        Progress(0, 4, "Buying office"), Progress(1, 4, "Foundry"), Progress(2, 4, "Machine shop"),
        Progress(3, 4, "Erecting shop"),
    ]  # fmt: skip
    assert (found.folder, found.stopped) == (str(tmp_path / "extracts"), False)
    assert files_in(tmp_path / "extracts") == [f"W611-A-{code}-1.txt" for code in ("BUY", "ERE", "FDY", "MCH")]
    ((foundry, _),) = make_extracts(office, ("FDY",))
    assert found.sentences[1] == (
        f"FDY extract 1 of revision A: 5 lines, 37 pieces, 0 withdrawn, seal {foundry.seal} (new)"
    )
    assert len(found.sentences) == 4


def test_the_files_are_those_of_the_extract(office: Office, tmp_path: Path) -> None:
    done(office, ("fdy",), ("txt", "csv", "MD"))
    ((foundry, new),) = make_extracts(office, ("FDY",))
    assert not new
    for form in ("txt", "csv", "md"):
        assert (tmp_path / "extracts" / f"W611-A-FDY-1.{form}").read_bytes() == written(foundry, form)


def test_made_again_it_is_the_same_one_printed_again(office: Office) -> None:
    first, again = done(office, ("FDY",)), done(office, ("FDY",))
    assert again.sentences == (first.sentences[0].replace("(new)", "(printed again)"),)
    assert made_of(office) == [("FDY", 1)]


def test_a_folder_is_meant_from_the_books_own_wherever_one_stands(
    office: Office, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    assert done(office, ("FDY",), folder="paper/today").folder == str(tmp_path / "paper" / "today")
    assert files_in(tmp_path / "paper" / "today") == ["W611-A-FDY-1.txt"]
    assert done(office, ("FDY",), folder=str(tmp_path / "own")).folder == str(tmp_path / "own")
    monkeypatch.setenv("HOME", str(elsewhere))
    assert done(office, ("FDY",), folder=" ~/mine ").folder == str(elsewhere / "mine")


def test_a_book_named_from_where_one_stands_is_meant_so(
    office: Office, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    acts = OfficeDoer(lambda: open_office(Settings(book="works.specreg"), login="jd"))
    assert acts.extract(("FDY",), ("txt",), "out", lambda _: None, lambda: False).folder == str(tmp_path / "out")


def test_stopped_between_departments_it_leaves_whole_what_is_done(office: Office, tmp_path: Path) -> None:
    asked: list[int] = []

    def stopped() -> bool:
        asked.append(len(asked))
        return len(asked) == 3

    found = done(office, forms=("txt", "csv"), stopped=stopped)
    assert (found.stopped, len(found.sentences), len(asked)) == (True, 2, 3)
    assert made_of(office) == [("BUY", 1), ("FDY", 1)]
    assert files_in(tmp_path / "extracts") == [
        "W611-A-BUY-1.csv", "W611-A-BUY-1.txt", "W611-A-FDY-1.csv", "W611-A-FDY-1.txt",
    ]  # fmt: skip
    assert done(office).sentences[1].endswith("(printed again)")
    assert made_of(office) == [("BUY", 1), ("FDY", 1), ("MCH", 1), ("ERE", 1)]


def test_stopped_at_once_it_makes_nothing(office: Office) -> None:
    assert done(office, stopped=lambda: True) == ExtractsMade((), done(office, ("FDY",)).folder, stopped=True)
    assert made_of(office) == [("FDY", 1)]


@pytest.mark.parametrize(
    ("how", "why"),
    [
        ({"folder": "in the way"}, "it is a file"),
        ({"folder": "  "}, "no folder is named"),
        ({"folder": "~nobody-of-this-name/x"}, "there is no such person here"),
        ({"forms": ()}, "no form is chosen"),
        ({"forms": ("txt", "docx")}, "Choose one of txt, csv, md, pdf, xlsx"),
        ({"codes": ("FDY", "XYZ")}, "the works has BUY, FDY, MCH, ERE"),
    ],
)
def test_what_cannot_be_is_told_before_anything_is_made(
    office: Office, tmp_path: Path, how: dict[str, object], why: str
) -> None:
    (tmp_path / "in the way").write_text("", encoding="utf-8")
    with pytest.raises(WrongUse, match=why):
        done(office, **how)  # type: ignore[arg-type]
    assert made_of(office) == []
    assert not (tmp_path / "extracts").exists()


@pytest.mark.parametrize("folder", ["in the way/deeper", "nul\0l"])
def test_a_folder_that_cannot_be_made_is_refused_before_anything_is_made(
    office: Office, tmp_path: Path, folder: str
) -> None:
    (tmp_path / "in the way").write_text("", encoding="utf-8")
    with pytest.raises(Refused, match="Write to the folder"):
        done(office, folder=folder)
    assert made_of(office) == []


def test_only_who_may_has_them_made(office: Office, tmp_path: Path) -> None:
    with pytest.raises(NotPermitted, match=r"W\. Garnet is checker here"):
        done(office, ("FDY",), code="WG")
    with pytest.raises(Refused, match=r"F\. Oakshott is head of FDY"):
        done(office, code="FO")
    assert (made_of(office), (tmp_path / "extracts").exists()) == ([], False)
    assert len(done(office, ("FDY",), code="FO").sentences) == 1


def test_while_nothing_is_issued_there_is_nothing_to_make(tmp_path: Path) -> None:
    office = with_order(tmp_path)
    with pytest.raises(NotFound, match="none is issued yet"):
        done(office)
    office.book.close()


def test_the_book_is_let_go_of_however_it_ends(office: Office) -> None:
    opened: list[Office] = []

    def open_again() -> Office:
        opened.append(second_program(office))
        return opened[-1]

    acts = OfficeDoer(open_again)
    acts.extract(("FDY",), ("txt",), "out", lambda _: None, lambda: False)
    with pytest.raises(NotFound):
        acts.extract(("XYZ",), ("txt",), "out", lambda _: None, lambda: False)
    assert len(opened) == 2
    for one in opened:
        with pytest.raises(Exception, match="closed"):
            one.book.version()


def test_the_doer_of_a_run_goes_by_its_settings(
    office: Office, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("specreg.bootstrap.login_name", lambda: "fo")
    acts = doer(Settings(book=str(office.book.path)), clock=Clock())
    acts.extract(("FDY",), ("csv",), "out", lambda _: None, lambda: False)
    assert files_in(tmp_path / "out") == ["W611-A-FDY-1.csv"]
    entry = day_book.entries(office.book, None, 1)[0]
    assert (entry.act, entry.person) == ("extract", "FO")
    with pytest.raises(Refused, match="is head of FDY"):
        acts.extract(("MCH",), ("csv",), "out", lambda _: None, lambda: False)
