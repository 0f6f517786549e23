"""Extracts as files: which forms there are, what a file is called, and writing it whole or not at all."""

from __future__ import annotations

import errno
import importlib
import os
import re
import secrets
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from specreg.core.errors import Refused, WrongUse
from specreg.core.extracts import Extract

Writer = Callable[[Extract], str | bytes]


@dataclass(frozen=True, slots=True)
class Format:
    """A form an extract takes as a file.

    `suffix` ends the file's name. `writer` names its function as `module:function`, imported when it is first used,
    so that a form costs nothing until somebody wants it; the function gives text, or bytes where the form is not
    text. `newline` ends each line of a text in the file; None leaves the text's own. `text` is whether it can be shown
    on a terminal.
    """

    suffix: str
    writer: str
    newline: str | None = None
    text: bool = True

    def load(self) -> Writer:
        """The function that writes it."""
        module, _, function = self.writer.partition(":")
        writer: Writer = getattr(importlib.import_module(module), function)
        return writer


FORMATS: Mapping[str, Format] = MappingProxyType(
    {
        "txt": Format(".txt", "specreg.output.plain_text:plain_text", "\n"),
        # A line break within a cell is data, so the table keeps the line ends its writer gave it.
        "csv": Format(".csv", "specreg.output.csv_table:csv_table"),
        "md": Format(".md", "specreg.output.markdown_sheet:markdown_sheet", "\n"),
        "pdf": Format(".pdf", "specreg.output.pdf:pdf", text=False),
        "xlsx": Format(".xlsx", "specreg.output.xlsx:xlsx", text=False),
    }
)
"""The forms by the name a person types."""

_UNSAFE = re.compile(r"[^\w.-]+")

_WHAT_TO_DO = {
    errno.ENOENT: "Make the folder first, or choose one that exists",
    errno.ENOTDIR: "Choose a folder; a part of this path is a file",
    errno.EISDIR: "Choose another name; this one is a folder",
    errno.ENAMETOOLONG: "Choose a shorter name",
    errno.ENOSPC: "Make room on the disk, then write again",
    errno.EDQUOT: "Make room on the disk, then write again",
}


def format_named(name: str) -> Format:
    """The form of this name, any case. Raises WrongUse when there is none."""
    known = FORMATS.get(name.strip().lower())
    if known is None:
        raise WrongUse(f"the form {name!r}", "there is no such form", f"Choose one of {', '.join(FORMATS)}")
    return known


def written(extract: Extract, format: str) -> bytes:
    """The file's content; text is UTF-8. Raises WrongUse for an unknown form."""
    form = format_named(format)
    content = form.load()(extract)
    if isinstance(content, bytes):
        return content
    return (content if form.newline is None else content.replace("\n", form.newline)).encode()


def file_name(extract: Extract, format: str) -> str:
    """`W611-B-FDY-2.txt`: order, revision, department, extract number; `-section-4` after it for a part.

    Spaces are dropped, and every sign but letters, figures, full stop, dash and low line becomes a low line, so that
    the name is one file's on every system and leads into no other folder. Raises WrongUse for an unknown form.
    """
    part = f"section-{extract.part.split(maxsplit=1)[0]}" if extract.part.strip() else ""
    parts = (extract.order, extract.title_block.revision, extract.department, str(extract.number), part)
    return safe_name(parts) + format_named(format).suffix


def safe_name(parts: Iterable[str]) -> str:
    """The parts with dashes between them, without what a name of a file may not hold; empty ones left out."""
    return "-".join(safe for one in parts if (safe := _safe(one)))


def _safe(text: str) -> str:
    return _UNSAFE.sub("_", "".join(unicodedata.normalize("NFC", text).split())).lstrip(".")


def write_file(path: Path, data: bytes) -> None:
    """Write the whole file, or leave what stood there: a file beside it is written, made safe on disk and renamed.

    Raises Refused with the system's reason and what to do when the folder or file cannot be written.
    """
    beside = path.parent / f".specreg-{secrets.token_hex(8)}.part"
    try:
        with beside.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError as error:
        do = _WHAT_TO_DO.get(error.errno or 0, "Choose a folder you may write in, or ask its owner for leave")
        raise Refused(f"writing {path}", error.strerror or str(error), do) from error
    finally:
        _clear_away(beside)


def _clear_away(beside: Path) -> None:
    """Remove the file beside, if it is still there; its failing must not hide why the writing failed."""
    try:
        beside.unlink(missing_ok=True)
    except OSError:
        return
