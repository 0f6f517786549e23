"""What a heading, or a paragraph that stands for one, says: its number and its title; and what only looks like one."""

from __future__ import annotations

import re
from dataclasses import dataclass

from specreg.core.model import State
from specreg.intake.markdown_cells import title_of, without_bold

_LEVEL = r"[0-9]+[A-Z]{0,3}[a-z]?"
_NUMBER = rf"(?:[A-Z]\.)?[A-Z]?{_LEVEL}(?:\.{_LEVEL})*"
_TITLE = r"(?:\s+(?:[-–—:]\s+)?(?P<title>.*))?"
_CHAPTER_WORD = r"(?i:chapter|section|part|clause|article|appendix|annex|item)"
_PLAIN = re.compile(rf"(?P<number>{_NUMBER})[.:)]?{_TITLE}", re.DOTALL)
_CHAPTER = re.compile(
    rf"{_CHAPTER_WORD}\s+(?P<bold>\*\*|__|)(?P<number>{_NUMBER}|[A-Z])[.:)]?(?P=bold)[.:)]?{_TITLE}", re.DOTALL
)
_BOLD = re.compile(rf"(?P<bold>\*\*|__)(?P<within>(?:(?!(?P=bold)).)+)(?P=bold)[.:)]?{_TITLE}", re.DOTALL)
_LEGACY_NUMBER = re.compile(r"[A-Z]|(?=.*[0-9])(?!.*[a-z]{2}).{1,40}")

# A paragraph's number has no small letter at its end: 2.5m is a length.
_CLAUSE = r"(?P<number>[1-9][0-9]*[A-Z]{0,3}(?:\.[0-9]+[A-Z]{0,3})+)[.:)]?"
_PARAGRAPH = re.compile(rf"(?P<bold>\*\*|__|){_CLAUSE}(?P=bold)[.:)]?[ \t]+(?:[-–—:][ \t]+)?(?P<title>\S.*)")
_PARAGRAPH_WHOLLY_BOLD = re.compile(rf"(?P<bold>\*\*|__){_CLAUSE}[ \t]+(?P<title>(?:(?!(?P=bold)).)+)(?P=bold)")

_CONTENTS_HEAD = re.compile(r"(?:table of |list of )?contents|index", re.IGNORECASE)
_CONTENTS_LINE = re.compile(
    r"\[[^\]]*\]\(#[^)]*\)"  # a link to a heading of the file
    r"|.*(?:\.[ \t]?){3,}[ \t]*[0-9ivxIVX]*"  # leaders of full stops
    r"|.*…[ \t.…]*[0-9ivxIVX]*"
    r"|.*\S(?:\t+| {3,})[0-9]+"  # a page number in a column of its own
)
_PAGE_NUMBER = re.compile(r".*\S\s+(?:[0-9]+|[ivxl]+)")

_UNIT_WORDS = (
    "mm cm dm m km in ins inch inches ft feet foot yd yds yard yards mil mils thou µm um μm "
    "mm2 mm3 cm2 cm3 m2 m3 mm² mm³ cm² cm³ m² m³ in² in³ ft² ft³ sq cu "
    "g kg t mg lb lbs oz cwt qr qrs ton tons tonne tonnes st N kN MN Nm kNm kgf tf lbf "
    "Pa kPa MPa GPa hPa bar mbar psi atm N/mm2 N/mm² kg/m3 kg/m³ lb/in2 lb/in² kg/cm2 kg/cm² "
    "s sec secs min mins h hr hrs hour hours day days rpm rev/min m/s m/min mm/s ft/min Hz kHz rad deg "
    "W kW MW hp HP kVA kWh V kV A mA J kJ MJ K °C °F C F l ml gal gall gallon gallons litre litres "
    "% ‰ ° ' \" ′ ″ x X × off per times to and or of"
)
_UNITS = frozenset(_UNIT_WORDS.split())
"""Words after a decimal number that make it a quantity, not a clause number (from memory, no source)."""

_STATE_TITLES = {
    State.RESERVED: re.compile(
        r"\(?(?:not used|number not used|not allocated|reserved|vacant|void|blank|(?:intentionally )?left blank"
        r"|intentionally blank)\)?\.?",
        re.IGNORECASE,
    ),
    State.DELETED: re.compile(r"\(?deleted(?:\s+(?:at|by|in|from|on|with)\s.*)?\)?\.?", re.IGNORECASE),
}


@dataclass(frozen=True, slots=True)
class Numbered:
    """A number and the title after it; `state` and `reason` when the title only says that the number is not used."""

    number: str
    title: str
    state: State = State.LIVE
    reason: str = ""


def heading_number(content: str) -> Numbered | None:
    """Number and title of a heading's content (without its `#`); None when it has no number.

    A number of another form than ours (`E 4013/2A`) is read as one when it stands in bold and a title follows.
    """
    content = content.strip()
    inner = without_bold(content)
    found = _PLAIN.fullmatch(inner) or _CHAPTER.fullmatch(inner)
    if found:
        return numbered(found["number"], found["title"] or "")
    bold = _BOLD.fullmatch(content)
    if not bold:
        return None
    within, title = bold["within"].strip().rstrip(".:"), bold["title"] or ""
    found = _PLAIN.fullmatch(within) or _CHAPTER.fullmatch(within)
    if found:
        return numbered(found["number"], f"{found['title'] or ''} {title}")
    if title and _LEGACY_NUMBER.fullmatch(within):
        return numbered(within, title)
    return None


def paragraph_number(line: str, section: str, highest: int) -> Numbered | None:
    """Number and title when a paragraph's line stands for a heading; None when it is text.

    `section` is the number of the section in hand (empty for none) and `highest` the highest second level met in it. A
    quantity (`2.5 mm plate`, `0.7 MPa`), a number of another section and one that leaps ahead are text.
    """
    line = line.strip()
    if not line[:1].isdecimal() and line[:1] not in ("*", "_"):
        return None
    found = _PARAGRAPH.fullmatch(line) or _PARAGRAPH_WHOLLY_BOLD.fullmatch(line)
    if not found or is_contents_line(line):
        return None
    number, title = found["number"], found["title"].strip()
    parts = number.split(".")
    if section and parts[0] != section:
        return None
    if len(parts) == 2 and not _is_next_clause(parts[1], title, highest):
        return None
    return numbered(number, title)


def _is_next_clause(second: str, title: str, highest: int) -> bool:
    """Whether `2.<second> title` is a clause and not a decimal number with what it counts."""
    first_word = title.split(maxsplit=1)[0].rstrip(".,;:)")
    if first_word in _UNITS and not (first_word.isalpha() and len(title) > 1 and title.isupper()):
        return False
    figures = int("".join(sign for sign in second if sign.isdecimal()))
    if (len(second) > 1 and second[0] == "0") or figures > highest + 20:
        return False
    return not first_word[:1].islower() or figures == highest + 1


def numbered(number: str, title: str) -> Numbered:
    """Number and title as written, with the state when the title only says that the number is not used."""
    title = title.strip()
    said = without_bold(title)
    for state, pattern in _STATE_TITLES.items():
        if pattern.fullmatch(said):
            return Numbered(number, "", state, said)
    return Numbered(number, title_of(title))


def is_contents_head(line: str) -> bool:
    """Whether a line is the head of a list of contents."""
    return bool(_CONTENTS_HEAD.fullmatch(without_bold(line.strip().lstrip("#").strip()).rstrip(":")))


def is_contents_line(line: str) -> bool:
    """Whether a line is one of a list of contents by its look: a link within the file, leaders, a page number apart."""
    return bool(_CONTENTS_LINE.fullmatch(line.strip()))


def ends_in_page_number(line: str) -> bool:
    """Whether a line ends in a figure that may be a page number; says something only within a list of contents."""
    return bool(_PAGE_NUMBER.fullmatch(line.strip()))
