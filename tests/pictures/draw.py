"""Draws the README's pictures anew from the sample order, taken through the round: `python -m tests.pictures.draw`.

Four screens as SVG and one printed sheet as PNG, written beside this file. They bear the day they are drawn.
"""

from __future__ import annotations

import asyncio
import re
import sys
import tempfile
from pathlib import Path

import pypdfium2

from specreg.bootstrap import doer, make_book, open_reader
from specreg.services.demonstrating import CHIEF, demonstrate
from specreg.services.extracting import make_extracts
from specreg.settings import Settings, shipped_folder
from specreg.tui.app import SpecregApp
from tests.tui.watching import until_shown

FOLDER = Path(__file__).parent
SIZE = (100, 30)
SCREENS = {
    "desk": ((), "Nothing lost"),
    "departments": (("p",), "nothing lost"),
    "compare": (("c",), " with open"),
    "take-off": (("t",), "The whole order"),
}
"""The picture's name: the keys that lead there, and what stands on it once it is painted."""

_FAR_FONTS = re.compile(r"@font-face \{.*?\}\s*", re.DOTALL)


async def draw_screens(book: Path) -> None:
    """Paint each screen and keep it."""
    settings = Settings(book=str(book))
    for name, (keys, words) in SCREENS.items():
        app = SpecregApp(lambda: open_reader(settings), doer=doer(settings))
        async with app.run_test(size=SIZE) as pilot:
            await until_shown(pilot, "Waits for you")
            await pilot.press(*keys)
            await until_shown(pilot, words)
            # A picture must not fetch anything when it is looked at.
            picture = _FAR_FONTS.sub("", app.export_screenshot(title=f"specreg: {name}"))
        (FOLDER / f"{name}.svg").write_text(picture, encoding="utf-8")


def draw_sheet(data: bytes, heading: str, file: Path) -> None:
    """Draw the first sheet of a PDF after the front that bears a heading."""
    sheets = list(pypdfium2.PdfDocument(data))[1:]
    sheet = next(one for one in sheets if heading in one.get_textpage().get_text_range())
    sheet.render(scale=1.25).to_pil().convert("L").quantize(16).save(file, optimize=True)


def main() -> None:
    """Make the sample's book in a temporary folder and draw from it."""
    from specreg.output.pdf import pdf

    with tempfile.TemporaryDirectory(prefix="specreg-pictures-") as name:
        folder = Path(name)
        office = make_book(folder / "works.specreg", CHIEF)
        demonstrate(office, shipped_folder("sample_spec"), folder / "extracts", lambda _: None)
        ((extract, _),) = make_extracts(office, ("MCH",))
        office.book.close()
        draw_sheet(pdf(extract), "4 Slewing gear", FOLDER / "sheet.png")
        asyncio.run(draw_screens(folder / "works.specreg"))
    for file in sorted(FOLDER.glob("*.[sp][vn]g")):
        sys.stdout.write(f"{file.name}  {file.stat().st_size // 1024} KB\n")


if __name__ == "__main__":
    main()
