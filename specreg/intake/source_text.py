"""Bytes of a source file to text: which code page, and where a byte is wrong."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from specreg.core.errors import WrongUse
from specreg.core.faults import Fault, Place, Severity

_BOM_UTF_8 = b"\xef\xbb\xbf"
_BOMS_UTF_16 = (b"\xff\xfe", b"\xfe\xff")
_LINES_NAMED = 20
_END_OF_FILE = "\x1a"
"""The sign by which old programs end a text file."""


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
    """The text of a table file: UTF-8, UTF-16, or else the Western code page 1252, and that is flagged.

    UTF-16 without its mark is known by its noughts. A file with a byte that 1252 does not have is read as the older
    code page 850, and flagged too. Raises WrongUse when it starts as UTF-16 and is not.
    """
    wide = _utf_16(data)
    if wide:
        try:
            return SourceText(_with_lf(data.decode(wide)).rstrip(_END_OF_FILE).lstrip("\ufeff"))
        except UnicodeDecodeError as cause:
            raise WrongUse(f"{file} cannot be read", "it starts as UTF-16 and is not", "Save it as UTF-8") from cause
    data = data.removeprefix(_BOM_UTF_8)
    try:
        return SourceText(_with_lf(data.decode("utf-8")).rstrip(_END_OF_FILE).lstrip("\ufeff"))
    except UnicodeDecodeError:
        pass
    page = "1252"
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:
        page, text = "850", data.decode("cp850")
    text = _with_lf(text).rstrip(_END_OF_FILE)
    strange = [(number, line) for number, line in enumerate(text.split("\n"), 1) if not line.isascii()]
    shown = "; ".join(f"line {number}: {line.strip()}" for number, line in strange[:_LINES_NAMED])
    more = f"; and {len(strange) - _LINES_NAMED} more lines" if len(strange) > _LINES_NAMED else ""
    flag = Fault(
        "code page",
        Severity.WARNING,
        "",
        f"Not UTF-8: read as code page {page} (cp{page}). Look at the signs beyond plain letters in {shown}{more}.",
        Place(file, strange[0][0]),
    )
    return SourceText(text, (flag,))


def _utf_16(data: bytes) -> str:
    """The name of the UTF-16 coding of the data; empty when it is none."""
    if data.startswith(_BOMS_UTF_16):
        return "utf-16"
    head = data[:400]
    low, high = head[0::2].count(0), head[1::2].count(0)
    # Text of plain letters has a nought beside nearly each of them, other text has none.
    if len(head) >= 4 and max(low, high) * 2 > len(head) // 2:
        return "utf-16-be" if low > high else "utf-16-le"
    return ""


def _with_lf(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")
