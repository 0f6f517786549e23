"""demo, practice."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specreg.cli.output import data, progress, say, table
from specreg.core.counts import grouped, so_many

if TYPE_CHECKING:
    from specreg.services.demonstrating import Shown
    from specreg.services.office import Office
    from specreg.services.practising import Practice


@click.command()
@click.option(
    "--into", type=click.Path(path_type=Path, file_okay=False), help="Folder; else specreg-demo, or the next free name."
)
@click.option("--no-screen", is_flag=True, help="Stop after the account.")
def demo(into: Path | None, no_screen: bool) -> None:
    """Build the sample order end to end: take in, allocate, issue, alter, issue again, extracts; then open the desk."""
    from specreg.services.demonstrating import CHIEF, demonstrate
    from specreg.settings import shipped_folder

    book = _new_book(into, "specreg-demo", "works.specreg")
    extracts = book.parent / "extracts"
    with _made_whole(book, CHIEF) as office:
        shown = demonstrate(office, shipped_folder("sample_spec"), extracts, _say_step, progress())
    _tell(shown, book, extracts)
    if not no_screen:
        _open_desk(book)


@click.command()
@click.option(
    "--into", type=click.Path(path_type=Path, file_okay=False), help="Folder; else specreg-practice, or the next free."
)
@click.option("--name", default="", help="Your name, as it shall stand in title blocks.")
@click.option("--no-screen", is_flag=True, help="Stop after the account.")
def practice(into: Path | None, name: str, no_screen: bool) -> None:
    """Make a practice book of the sample for a new clerk to learn on: PRACTICE stands on every screen and sheet."""
    from specreg.services.practising import practise
    from specreg.settings import shipped_folder

    book = _new_book(into, "specreg-practice", "practice.specreg")
    with _made_whole(book, name) as office:
        made = practise(office, shipped_folder("sample_spec"), _say_step, progress())
    _tell_lessons(made, book)
    if not no_screen:
        _open_desk(book)


def _say_step(words: str) -> None:
    say(f"{words} ...")


def _new_book(into: Path | None, usual: str, name: str) -> Path:
    """Where a new book goes: into the folder named, else into one of the usual name that has none yet."""
    folder, count = into or Path(usual), 1
    while into is None and (folder / name).exists():
        count += 1
        folder = Path(f"{usual}-{count}")
    folder.mkdir(parents=True, exist_ok=True)
    return folder / name


@contextmanager
def _made_whole(book: Path, chief: str) -> Iterator[Office]:
    """A new book to be filled; when that ends half-way the book is taken away again."""
    from specreg.bootstrap import make_book

    office = make_book(book, chief)
    try:
        yield office
    except BaseException:
        office.book.close()
        for suffix in ("", "-wal", "-shm"):
            Path(f"{book}{suffix}").unlink(missing_ok=True)
        raise
    office.book.close()


def _open_desk(book: Path) -> None:
    """The screens over a book, on a terminal."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return
    from specreg.bootstrap import doer, open_reader
    from specreg.settings import Settings
    from specreg.tui.run import run as run_screens

    settings = Settings(book=str(book))
    run_screens(lambda: open_reader(settings), doer=doer(settings))


def _tell(shown: Shown, book: Path, extracts: Path) -> None:
    data(f"Order {shown.order}  {shown.title}  (an invented works and an invented machine)")
    data(f"  taken in    {so_many(shown.items, 'item')}, {so_many(shown.sheets, 'sheet')} of drawings, "
         f"{so_many(shown.set_aside, 'row')} set aside")  # fmt: skip
    for letter, seal in shown.revisions:
        data(f"  issued      revision {letter}, seal {seal}")
    for one in shown.changes:
        data(f"  {one.old} to {one.new}      {one.added} added, {one.deleted} deleted, {one.altered} altered")
    data(f"  open        note {', '.join(shown.open_notes) or 'none'}")
    sign = "nothing lost" if shown.steps == shown.in_shares else "LINES LOST"
    data(f"  split       {so_many(shown.steps, 'step')} = {grouped(shown.in_shares)} in shares: {sign}")
    data(f"  placed      {so_many(shown.placed, 'item')} with suppliers at revision A; of {shown.outdated} a later one "
         "says otherwise, see `specreg order-list`")  # fmt: skip
    data(f"  proved      {'every seal and digest agrees' if shown.verified else 'THE BOOK DOES NOT AGREE'}")
    data(f"  checker     {so_many(shown.warnings, 'fault')} told; see `specreg check`")
    data("")
    table(
        [
            (code, name, str(lines), str(pieces), str(changed), seal)
            for code, name, lines, pieces, changed, seal in shown.departments
        ],
        ("Dept", "Name", "Lines", "Pieces", "Changed", "Seal"),
        right=(2, 3, 4),
    )
    data("")
    data("Weights, lengths and order quantities are estimates for planning;")
    data("competent persons, the inspecting authority and local codes decide.")
    data("")
    data(f"The book is      {book}")
    data(f"Extracts are in  {extracts}, {shown.files} files")
    data(f"Go on with       specreg --book {book} desk")


def _tell_lessons(made: Practice, book: Path) -> None:
    from specreg.services.practising import LESSONS

    data(f"Order {made.order}, revisions {', '.join(made.revisions)}: nothing in this book is for the shops.")
    told = so_many(len(made.mistakes), "fault")
    data(f"Note {made.note} has mistakes put in on purpose; the checker tells {told} of it.")
    data("")
    data(f"export SPECREG_BOOK={book}")
    for count, (words, commands) in enumerate(LESSONS, start=1):
        data(f"{count}. {words.format(note=made.note)}.")
        for command in commands:
            data(f"     specreg {command.format(note=made.note)}")
    data(f"{len(LESSONS) + 1}. Look about on the screens.")
    data("     specreg desk")


COMMANDS = {"demo": demo, "practice": practice}
