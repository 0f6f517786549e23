"""What a heading, or a paragraph that stands for one, says: its number and its title; and what only looks like one."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from specreg.core.model import State
from specreg.intake.markdown_cells import title_of, without_bold

_LEVEL = r"[0-9]+[A-Z]{0,3}[a-z]?"
_NUMBER = rf"(?:[A-Z]\.)?[A-Z]?{_LEVEL}(?:\.{_LEVEL})*"
_TITLE = r"(?:\s+(?:[-–—:]\s+)?(?P<title>.*))?"
_CHAPTER_WORD = (
    r"(?i:chapter|section|sect\.|part|(?:sub-?)?clause|cl\.|(?:sub-?)?paragraph|para\.?|article|art\.|appendix|annex|item|no\."
    r"|§)"
)
_PLAIN = re.compile(rf"(?P<number>{_NUMBER})[.:)]?{_TITLE}", re.DOTALL)
_CHAPTER = re.compile(
    rf"(?:{_CHAPTER_WORD}\s+|§)(?P<bold>\*\*|__|)(?P<number>{_NUMBER}|[A-Z])[.:)]?(?P=bold)[.:)]?{_TITLE}", re.DOTALL
)
_BOLD = re.compile(rf"(?P<bold>\*\*|__)(?P<within>(?:(?!(?P=bold)).)+)(?P=bold)[.:)]?{_TITLE}", re.DOTALL)
_LEGACY_NUMBER = re.compile(r"[A-Z]|(?=.*[0-9])(?!.*[a-z]{2}).{1,40}")

# A paragraph's number has no small letter at its end: 2.5m is a length.
_CLAUSE = r"(?P<number>(?:[1-9][0-9]*[A-Z]{0,3}|[A-Z])(?:\.[0-9]+[A-Z]{0,3})+)[.:)]?"
_GAP = r"[ \t\xa0]+"
_PARAGRAPH = re.compile(rf"(?P<bold>\*{{1,3}}|_{{1,2}}|){_CLAUSE}(?P=bold)[.:)]?{_GAP}(?:[-–—:]{_GAP})?(?P<title>\S.*)")
_PARAGRAPH_WHOLLY_BOLD = re.compile(rf"(?P<bold>\*\*|__){_CLAUSE}{_GAP}(?P<title>(?:(?!(?P=bold)).)+)(?P=bold)")

# Marks of the file, not of the number: a place to link to, a link, italics or code around the number.
_ANCHOR = re.compile(r"<a\s[^>]*>\s*</a>\s*|\s*\{#[^{}]*\}$", re.IGNORECASE)
_LINK = re.compile(r"\[(?P<said>[^\]]+)\]\((?:#|[^)\s]*\.md)[^)]*\)")
_ITALIC_NUMBER = re.compile(rf"(?P<mark>\*\*\*|\*(?!\*)|_(?!_)|`)(?P<number>{_NUMBER})(?P=mark)(?=[.:)\s]|$)")
_ESCAPED_STOP = re.compile(r"(?<=[0-9])\\\.(?=[0-9\s]|$)")
_RAISED_STOP = re.compile(r"(?<=[0-9])·(?=[0-9])")
_DATE = re.compile(r"[0-9]{1,2}\.(?:0?[1-9]|1[0-2])\.(?:19|20)[0-9]{2}")
_OF_ANOTHER_FORM = re.compile(
    r"[*_§\s]*(?:[0-9]+[.,/-][0-9]+[^\s]*|[0-9.]+\([a-z0-9]+\)|\(?[a-z0-9]{1,3}\)|[IVX]+\.)(?:\s|$)"
)

_LIKE_A_HEADING = re.compile(
    r"#{1,6}(?:\xa0\s*)?[0-9*].*"
    r"|(?P<bold>\*\*|__|)(?i:chapter\s+|section\s+|clause\s+)?[1-9][0-9]{0,2}\.?[ \xa0]+"
    r"(?=[A-Z]{3})[A-Z][A-Z ,/&()-]+(?P=bold)"
    r"|(?P<strong>\*\*|__)(?i:chapter|section|clause)\s+[0-9].*"
    r"|[0-9]+(?:\.[0-9]+)+\s*(?:to|-|–|and|,|&)\s*[0-9]+(?:\.[0-9]+)+\b.{0,20}\b"
    r"(?i:not used|deleted|reserved|omitted)\W*"
)

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
    "Ton Tons Tonnes seconds minutes metres meters mtr mtrs millimetres kilograms kilos knots dia dia. diam million "
    "thousand kN/m N/m t/m kg/m l/min l/s m3/h m³/h bhp ihp gpm "
    "% ‰ ° ' \" ′ ″ x X × off per times to and or of"
)
_UNITS = frozenset(_UNIT_WORDS.split())
"""Words after a decimal number that make it a quantity, not a clause number (from memory, no source)."""
_UNITS_IN_CAPITALS = frozenset(
    unit.upper()
    for unit in _UNITS
    if unit.isalpha()
    and len(unit) > 1
    and unit not in ("to", "and", "or", "of", "off", "per", "times", "in", "st", "sq", "cu")
)

_ABOUT = r"(?:(?:this\s+)?(?:clause|section|paragraph|item|number)\s+)?(?:is\s+|has\s+been\s+)?"
_STATE_TITLES = {
    State.RESERVED: re.compile(
        rf"{_ABOUT}(?:not\s+(?:used|allocated)|unused|reserved(?:\s+for\s+future\s+use)?|vacant|void|blank"
        r"|(?:intentionally )?left blank|intentionally (?:blank|omitted|not used)|omitted)",
        re.IGNORECASE,
    ),
    State.DELETED: re.compile(
        rf"{_ABOUT}(?:deleted|withdrawn|cancelled)(?:\s+(?:at|by|in|from|on|with|see)\s.*)?", re.IGNORECASE
    ),
}
_STATE_AFTER_TITLE = re.compile(
    r"(?P<title>.*\S)\s*(?:[(\[]|\s[-–—]\s)\s*(?P<said>not used|deleted|number not used)\s*[)\]]?\.?", re.IGNORECASE
)
_AROUND_A_STATE = " \t*_()[]<>-–—.~"


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
    content = _bare(content)
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


def _bare(content: str) -> str:
    """A heading's content without the marks of the file around and within its number."""
    # A title that is marked as text keeps what looks like a name for links.
    content = (content if " \\" in content else _ANCHOR.sub("", content)).strip()
    link = _LINK.fullmatch(content)
    content = link["said"].strip() if link else content
    italic = _ITALIC_NUMBER.match(content)
    if italic:
        content = f"{italic['number']}{content[italic.end() :]}"
    first, parted, rest = content.partition(" ")
    return f"{_RAISED_STOP.sub('.', _ESCAPED_STOP.sub('.', first))}{parted}{rest}"


def is_of_another_form(content: str) -> bool:
    """Whether a heading that was not read seems to begin with a number all the same: `2.1(a) Frames`, `2-1 Frames`."""
    return bool(_OF_ANOTHER_FORM.match(content))


def is_like_a_heading(line: str) -> bool:
    """Whether a line of text may be meant for a heading: `##2.1 Frames`, `**2 FRAMES**`, `2.1 to 2.4 Not used`."""
    return bool(_LIKE_A_HEADING.fullmatch(line.strip()))


def is_quantity(title: str) -> bool:
    """Whether the words after a number make it a quantity: `mm plate` after 25."""
    first_word = title.split(maxsplit=1)[0].rstrip(".,;:)") if title.strip() else ""
    return first_word in _UNITS and first_word.islower() and len(first_word) > 1


def paragraph_number(line: str, section: str, highest: Mapping[str, int]) -> Numbered | None:
    """Number and title when a paragraph's line stands for a heading; None when it is text.

    `section` is the number of the section in hand (empty for none) and `highest` the highest number met under each
    division. A date, a quantity (`2.5 mm plate`, `0.7 MPa`), a number of another section and one that leaps ahead
    are text.
    """
    line = line.strip()
    if not line[:1].isdecimal() and line[:1] not in ("*", "_") and line[:1] != section:
        return None
    found = _PARAGRAPH.fullmatch(line) or _PARAGRAPH_WHOLLY_BOLD.fullmatch(line)
    if not found or is_contents_line(line):
        return None
    number, title = found["number"], found["title"].strip()
    parts = number.split(".")
    if (section or "1") != parts[0] and (section or parts[0].isalpha()):
        return None
    before = highest.get(".".join(parts[:-1]), 0)
    if _DATE.fullmatch(number) or (len(parts) > 2 and _leaps(parts[-1], before)):
        return None
    if len(parts) == 2 and not _is_next_clause(parts[1], title, before):
        return None
    return numbered(number, title)


def _is_next_clause(second: str, title: str, highest: int) -> bool:
    """Whether `2.<second> title` is a clause and not a decimal number with what it counts."""
    first_word = title.split(maxsplit=1)[0].rstrip(".,;:)")
    if first_word in _UNITS_IN_CAPITALS:
        return False
    if first_word in _UNITS and not (first_word.isalpha() and len(title) > 1 and title.isupper()):
        return False
    return not _leaps(second, highest) and (not first_word[:1].islower() or _figures(second) == highest + 1)


def _figures(level: str) -> int:
    return int("".join(sign for sign in level if sign.isdecimal()))


def _leaps(level: str, highest: int) -> bool:
    """Whether a level begins with a nought, or leaps far ahead of what was met beside it."""
    return (len(level) > 1 and level[0] == "0") or _figures(level) > highest + 20


def numbered(number: str, title: str) -> Numbered:
    """Number and title as written, with the state when the title only says that the number is not used."""
    title = title.strip()
    said = without_bold(title)
    bare = said.strip(_AROUND_A_STATE)
    for state, pattern in _STATE_TITLES.items():
        if pattern.fullmatch(bare) and not title.startswith("\\"):
            return Numbered(number, "", state, said)
    after = _STATE_AFTER_TITLE.fullmatch(said)
    if after and not title.startswith("\\"):
        state = State.DELETED if after["said"].casefold() == "deleted" else State.RESERVED
        return Numbered(number, title_of(after["title"].strip(" -–—")), state, after["said"])
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
