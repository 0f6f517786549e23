"""Bytes of a source file to text: which code page, and where a byte is wrong."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from specreg.core.errors import WrongUse
from specreg.core.faults import Fault, Place, Severity

_BOM_UTF_8 = b"\xef\xbb\xbf"
_BOMS_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_LINES_NAMED = 20


@dataclass(frozen=True, slots=True)
class SourceText:
    """A decoded file, its line ends all LF; `flags` say which code page was taken when it was not UTF-8."""

    text: str
    flags: tuple[Fault, ...] = ()


def read_bytes(path: Path) -> bytes:
    """The bytes of a file. Raises WrongUse, which names the path and the cause, when it cannot be read."""
    try:
        return path.read_bytes()
    except OSError as cause:
        why = cause.strerror or str(cause)
        raise WrongUse(f"{path} cannot be read", why, "Check the name and the rights") from cause


def utf_8_text(data: bytes, file: str) -> str:
    """The text of a file that must be UTF-8 (a mark at the start is taken off); line ends become LF.

    Raises WrongUse that names the line and the byte at which it is not UTF-8.
    """
    data = data.removeprefix(_BOM_UTF_8)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as cause:
        line = data.count(b"\n", 0, cause.start) + 1
        raise WrongUse(
            f"{Place(file, line)} cannot be read",
            f"byte {data[cause.start]:02X} (hexadecimal) is not UTF-8",
            "Save the file as UTF-8 and take it in again",
        ) from cause
    return _with_lf(text)


def table_text(data: bytes, file: str) -> SourceText:
    """The text of a table file: UTF-8, UTF-16 with its mark, or else the Western code page 1252, and that is flagged.

    Raises WrongUse, with the line, when it is none of these.
    """
    if data.startswith(_BOMS_UTF_16):
        try:
            return SourceText(_with_lf(data.decode("utf-16")))
        except UnicodeDecodeError as cause:
            raise WrongUse(f"{file} cannot be read", "it starts as UTF-16 and is not", "Save it as UTF-8") from cause
    data = data.removeprefix(_BOM_UTF_8)
    try:
        return SourceText(_with_lf(data.decode("utf-8")))
    except UnicodeDecodeError:
        pass
    try:
        text = _with_lf(data.decode("cp1252"))
    except UnicodeDecodeError as cause:
        line = data.count(b"\n", 0, cause.start) + 1
        raise WrongUse(
            f"{Place(file, line)} cannot be read",
            f"byte {data[cause.start]:02X} (hexadecimal) is neither UTF-8 nor of code page 1252",
            "Save the file as UTF-8 and take it in again",
        ) from cause
    strange = [(number, line) for number, line in enumerate(text.split("\n"), 1) if not line.isascii()]
    shown = "; ".join(f"line {number}: {line.strip()}" for number, line in strange[:_LINES_NAMED])
    more = f"; and {len(strange) - _LINES_NAMED} more lines" if len(strange) > _LINES_NAMED else ""
    flag = Fault(
        "code page",
        Severity.WARNING,
        "",
        f"Not UTF-8: read as code page 1252 (cp1252). Look at the signs beyond plain letters in {shown}{more}.",
        Place(file, strange[0][0]),
    )
    return SourceText(text, (flag,))


def _with_lf(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")
