"""The doer of the screens: acts that write, each in an office of its own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path

from specreg.core.errors import WrongUse
from specreg.output.files import format_named
from specreg.services.doings import ExtractsMade, Progress
from specreg.services.extracting import ToMake, folder_for, in_words
from specreg.services.office import Office


class OfficeDoer:
    """Opens the office for each act and lets go of the book after it. Fulfils `doings.Doer`."""

    def __init__(self, open_office: Callable[[], Office]) -> None:
        self._open_office = open_office

    def extract(
        self,
        codes: Sequence[str],
        forms: Sequence[str],
        folder: str,
        told: Callable[[Progress], None],
        stopped: Callable[[], bool],
    ) -> ExtractsMade:
        """Make extracts and write them, department by department.

        A folder that is not absolute is meant from the folder of the book.
        """
        if not forms:
            raise WrongUse("Make extracts", "no form is chosen", "Choose one or more")
        for form in forms:
            format_named(form)
        office = self._open_office()
        with closing(office.book):
            asked = ToMake(office, codes)
            into = folder_for(_folder_meant(folder, office.book.path))
            names = [department.name for department in asked.departments]
            sentences: list[str] = []
            told(Progress(0, len(names), names[0] if names else ""))
            for done in asked.write_each(forms, into, stopped):
                sentences.append(in_words(done.extract, done.new))
                if len(sentences) < len(names):
                    told(Progress(len(sentences), len(names), names[len(sentences)]))
            return ExtractsMade(tuple(sentences), str(into), stopped=len(sentences) < len(names))


def _folder_meant(written: str, book: Path) -> Path:
    if not written.strip():
        raise WrongUse("Write extracts", "no folder is named", "Give the name of one")
    try:
        named = Path(written.strip()).expanduser()
    except RuntimeError as error:
        raise WrongUse(f"Write to {written}", "there is no such person here", "Give the name of a folder") from error
    return book.absolute().parent / named
