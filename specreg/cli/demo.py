"""demo."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from specreg.cli.output import data, progress, say, table
from specreg.core.counts import grouped, so_many
from specreg.services.demonstrating import Shown


@click.command()
@click.option(
    "--into", type=click.Path(path_type=Path, file_okay=False), help="Folder; else specreg-demo, or the next free name."
)
@click.option("--no-screen", is_flag=True, help="Stop after the account.")
def demo(into: Path | None, no_screen: bool) -> None:
    """Build the sample order end to end: take in, allocate, issue A, alter, issue B, extracts; then open the desk."""
    from specreg.bootstrap import make_book
    from specreg.services.demonstrating import CHIEF, demonstrate
    from specreg.settings import Settings, shipped_folder

    folder = into or _free_folder()
    folder.mkdir(parents=True, exist_ok=True)
    book = folder / "works.specreg"
    office = make_book(book, CHIEF)
    try:
        shown = demonstrate(
            office, shipped_folder("sample_spec"), folder / "extracts", lambda words: say(f"{words} ..."), progress()
        )
    except BaseException:
        office.book.close()
        for suffix in ("", "-wal", "-shm"):
            Path(f"{book}{suffix}").unlink(missing_ok=True)
        raise
    office.book.close()
    _tell(shown, book, folder / "extracts")
    if not no_screen and sys.stdin.isatty() and sys.stdout.isatty():
        from specreg.bootstrap import doer, open_reader
        from specreg.tui.run import run as run_screens

        settings = Settings(book=str(book))
        run_screens(lambda: open_reader(settings), doer=doer(settings))


def _free_folder() -> Path:
    folder = Path("specreg-demo")
    count = 1
    while (folder / "works.specreg").exists():
        count += 1
        folder = Path(f"specreg-demo-{count}")
    return folder


def _tell(shown: Shown, book: Path, extracts: Path) -> None:
    data(f"Order {shown.order}  {shown.title}  (an invented works and an invented machine)")
    data(f"  taken in    {so_many(shown.items, 'item')}, {so_many(shown.sheets, 'sheet')} of drawings, "
         f"{so_many(shown.set_aside, 'row')} set aside")  # fmt: skip
    for letter, seal in shown.revisions:
        data(f"  issued      revision {letter}, seal {seal}")
    changes = ", ".join(f"{count} {words}" for words, count in shown.changes)
    data(f"  A to B      {changes}; note {', '.join(shown.open_notes) or 'none'} stands open")
    sign = "nothing lost" if shown.steps == shown.in_shares else "LINES LOST"
    data(f"  split       {so_many(shown.steps, 'step')} = {grouped(shown.in_shares)} in shares: {sign}")
    data(f"  placed      {so_many(shown.placed, 'item')} with suppliers at revision A; of {shown.outdated} revision B "
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


COMMANDS = {"demo": demo}
