"""Texts spelt with the signs that a plain printer has, so that no figure changes its value on the way to paper."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import fields, replace
from typing import Any, TypeVar

from specreg.core.extracts import Extract, ExtractLine, TitleBlock

_Record = TypeVar("_Record", Extract, ExtractLine, TitleBlock)

_SIGNS = {
    **dict.fromkeys("−⁃", "-"), "»": ">", "«": "<", "§": "S", "×": "x", "✕": "x", "·": ".", "•": "*", "…": "...",
    **dict.fromkeys("“”„″‟", '"'), **dict.fromkeys("‘’‚′‛", "'"), "→": "->", "←": "<-", "↺": "OH", "≠": "<>",
    "≤": "<=", "≥": ">=", "±": "+/-", "⁄": "/", "∕": "/", "÷": "/", "µ": "u", "ß": "ss", "æ": "ae", "Æ": "AE",
    "œ": "oe", "Œ": "OE", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "þ": "th", "Þ": "Th", "ı": "i",
    **dict.fromkeys("─━═", "-"), **dict.fromkeys("│┃║", "|"), **dict.fromkeys("┌┐└┘├┤┬┴┼", "+"),
}  # fmt: skip
_WORDS = {"⌀": "dia", "°": "deg"}
_DIAMETER = re.compile(r"(?<![^\W\d_])[Øø](?![^\W\d_])")
_GREEK = re.compile(r"GREEK (SMALL|CAPITAL) LETTER ([A-Z]+)")


def plain_ascii(text: str) -> str:
    """The text in ASCII alone: `1½` is `1 1/2`, `Ø` beside no letter `dia`, a Greek letter its name, what is left `?`.

    A word that stands for a sign keeps clear of its neighbours; a raised or lowered figure is marked (`10²` is
    `10^2`), so that no figure changes its value.
    """
    if text.isascii():
        return text
    spelt: list[str] = []
    keep_clear = False
    for sign in _DIAMETER.sub("⌀", unicodedata.normalize("NFC", text)):
        plain, is_word = _spelling(sign)
        before = spelt[-1][-1] if spelt else ""
        if not plain:
            continue
        if (is_word or keep_clear) and before.isalnum() and plain[0].isalnum():
            spelt.append(" ")
        spelt.append(plain)
        keep_clear = is_word
    return "".join(spelt)


def extract_in_ascii(extract: Extract) -> Extract:
    """The extract with every text in ASCII; change signs stay, since lines are counted by them."""
    return replace(
        _in_ascii(extract),
        title_block=_in_ascii(extract.title_block),
        lines=tuple(_in_ascii(line) for line in extract.lines),
        withdrawn=tuple(_in_ascii(line) for line in extract.withdrawn),
        cautions=tuple(plain_ascii(caution) for caution in extract.cautions),
    )


def _in_ascii(record: _Record) -> _Record:
    values = {field.name: getattr(record, field.name) for field in fields(record) if field.name != "sign"}
    texts: dict[str, Any] = {name: plain_ascii(value) for name, value in values.items() if isinstance(value, str)}
    return replace(record, **texts)


def _spelling(sign: str) -> tuple[str, bool]:
    """A sign in ASCII, and whether that is a word or fraction of its own."""
    if sign.isascii():
        return sign, False
    if sign in _SIGNS:
        return _SIGNS[sign], False
    if sign in _WORDS:
        return _WORDS[sign], True
    kind = unicodedata.category(sign)
    if kind == "Pd":
        return "-", False
    if kind in ("Mn", "Me", "Cf"):
        return "", False
    if kind in ("Zl", "Zp") or sign == "\x85":
        return "\n", False
    if greek := _GREEK.fullmatch(unicodedata.name(sign, "")):
        name = greek[2].replace("LAMDA", "LAMBDA")
        return (name.lower() if greek[1] == "SMALL" else name.capitalize()), True
    flat = unicodedata.normalize("NFKD", sign)
    if flat == sign:
        return "?", False
    parts = [_spelling(part) for part in flat]
    plain = "".join(part for part, _ in parts)
    form = unicodedata.decomposition(sign).partition(" ")[0]
    if form in ("<super>", "<sub>") and not plain.isalpha():
        plain = f"{'^' if form == '<super>' else '_'}{plain}"
    if form == "<circle>":
        plain = f"({plain})"
    return plain, form == "<fraction>" or any(is_word for _, is_word in parts)
