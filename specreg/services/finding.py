"""Finding items, drawings and notes from half a word, half a number, or a misspelling.

A typed word is looked up in the list of all words that stand in the book: words that hold it, or, when nothing is
found, words within one or two errors of it. SQLite is then asked for whole words only; what must stand together
(`S/2`) is checked in the few rows found. Hits come in the tiers of `core.looking`, near misses last and the nearest
first; within a tier in specification order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial

from specreg.core.looking import APART, Sought, Tier, holding_field, sought, tier_of, without_labels
from specreg.core.model import Item, Sheet, State
from specreg.core.numbering import number_key
from specreg.core.wording import Part, figure_and_unit
from specreg.services.office import Office
from specreg.services.readings import Found, Hit
from specreg.services.word_list import MOST_WORDS, WordList
from specreg.store import looking_up, notes, word_index
from specreg.store.database import WorksBook
from specreg.store.word_index import Group, Subject

MOST_ROWS = 20_000
"""So many rows are looked at when parts must stand together."""

_MISSED = 3
"""A word that a row does not hold at all counts as so many errors; the row met what was typed in another way."""

_NEARER = 1
"""Near misses are shown that are no more than so many errors farther off than the nearest."""


def _never() -> bool:
    return False


@dataclass(frozen=True, slots=True)
class _Ranked:
    """A hit with its rank: tier, errors, place in the specification or the register; made up only when it is shown."""

    rank: tuple[int, int, str]
    made: Callable[[], Hit]


class Finder:
    """Looks things up in one book; keeps the word lists until somebody writes."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._book: WorksBook = office.book
        self._version = -1
        self._lists: dict[Subject, WordList] = {}
        self._synonyms: tuple[tuple[str, ...], ...] = ()

    def find(self, text: str, limit: int = 50, stopped: Callable[[], bool] = _never) -> Found:
        """The first hits for what was typed, and how many there are. Nothing typed raises an error."""
        with self._book.reading():
            self._renew()
            wanted = sought(text, self._synonyms)
            if not wanted.parts:
                return Found(text, 0, ())
            hits = self._exact(wanted, stopped)
            plainer = without_labels(wanted, self._synonyms) if not hits else None
            if plainer is not None:
                hits = self._exact(plainer, stopped)
            if not hits and not stopped():
                hits = self._near(plainer or wanted, stopped)
            hits.sort(key=lambda ranked: ranked.rank)
            return Found(text, len(hits), tuple(ranked.made() for ranked in hits[:limit]))

    def _renew(self) -> None:
        version = self._book.version()
        if version != self._version:
            self._lists.clear()
            self._synonyms = self._office.standards().synonyms if self._office.standing else ()
            self._version = version

    def _list(self, subject: Subject) -> WordList:
        if subject not in self._lists:
            self._lists[subject] = WordList(word_index.word_list(self._book, subject))
        return self._lists[subject]

    # What answers as typed ------------------------------------------------------------------------------------------

    def _exact(self, wanted: Sought, stopped: Callable[[], bool]) -> list[_Ranked]:
        found: list[_Ranked] = []
        for row in self._mine(self._item_rows(wanted)):
            if stopped():
                return found
            tier = tier_of(wanted, row.item.number, row.item.title, partial(_said, row.item), offered=True)
            if tier is not None:
                found.append(_Ranked((tier, 0, f"1{row.item.place_key}"), partial(_item_hit, wanted, row, tier)))
        for sheet in self._sheet_rows(wanted):
            tier = tier_of(wanted, sheet.name, sheet.title, partial(_said_of_sheet, sheet))
            if tier is not None:
                found.append(_Ranked((tier, 0, f"2{number_key(sheet.name)}"), partial(_sheet_hit, sheet, tier)))
        return found + self._note_hits(wanted)

    def _item_rows(self, wanted: Sought) -> list[looking_up.FoundItem]:
        groups = self._groups("item", wanted)
        if not groups:
            return looking_up.items_holding(self._book, [part.folded for part in wanted.parts])
        return looking_up.items_of(self._book, word_index.matching(self._book, "item", groups, MOST_ROWS))

    def _sheet_rows(self, wanted: Sought) -> list[Sheet]:
        groups = self._groups("drawing", wanted)
        if not groups:
            return looking_up.sheets_holding(self._book, [part.folded for part in wanted.parts])
        return looking_up.sheets_of(self._book, word_index.matching(self._book, "drawing", groups, MOST_ROWS))

    def _mine(self, rows: Iterable[looking_up.FoundItem]) -> Iterable[looking_up.FoundItem]:
        """Those of the order on the desk; of every order when none was chosen."""
        order = self._office.standing.order_id if self._office.standing else None
        return (row for row in rows if order is None or row.order_id == order)

    def _note_hits(self, wanted: Sought) -> list[_Ranked]:
        if self._office.standing is None:
            return []
        found: list[_Ranked] = []
        for standing in notes.of_order(self._book, self._office.standing.order_id):
            note = standing.note
            tier = tier_of(wanted, note.name, note.words, partial(str, f"{note.authority}\n{note.reason}"))
            if tier is not None and not note.is_compilation:
                hit = Hit("note", note.name, note.words, note.state, tier.why, near=False, order=self._office.order_no)
                found.append(_Ranked((tier, 0, f"3{note.number}"), partial(_same, hit)))
        return found

    def _groups(self, subject: Subject, wanted: Sought) -> list[Group]:
        """For each piece typed, the words of the list that will do; none when only punctuation was typed."""
        words = self._list(subject)
        groups: list[Group] = []
        for piece in wanted.pieces:
            alternatives = [one for reading in piece for one in _alternatives(words, reading)]
            if any(part.words for reading in piece for part in reading):
                groups.append(alternatives)
        return groups

    # What comes near ------------------------------------------------------------------------------------------------

    def _near(self, wanted: Sought, stopped: Callable[[], bool]) -> list[_Ranked]:
        found: list[_Ranked] = []
        candidates, groups = _near_words(self._list("item"), wanted)
        ids = word_index.matching(self._book, "item", groups, MOST_ROWS)
        for row in self._mine(looking_up.items_of(self._book, ids)):
            if stopped():
                return found
            errors = _errors(candidates, word_index.item_texts(row.item))
            found.append(
                _Ranked((Tier.NEAR, errors, f"1{row.item.place_key}"), partial(_item_hit, wanted, row, Tier.NEAR))
            )
        candidates, groups = _near_words(self._list("drawing"), wanted)
        for sheet in looking_up.sheets_of(self._book, word_index.matching(self._book, "drawing", groups, MOST_ROWS)):
            errors = _errors(candidates, word_index.sheet_texts(sheet.number, [sheet]))
            found.append(
                _Ranked((Tier.NEAR, errors, f"2{number_key(sheet.name)}"), partial(_sheet_hit, sheet, Tier.NEAR))
            )
        nearest = min((ranked.rank[1] for ranked in found), default=0)
        return [ranked for ranked in found if ranked.rank[1] <= nearest + _NEARER]


def _alternatives(words: WordList, reading: Sequence[Part]) -> list[list[list[str]]]:
    """Lists of word sets that must all be met: by the words of each part, or by the part without its punctuation."""
    told: list[list[list[str]]] = [[]]
    for part in reading:
        ways = [[_holding(words, word) for word in part.words]]
        if len(part.words) > 1 and part.squashed:
            ways.append([words.holding(part.squashed)[:MOST_WORDS]])
        parted = figure_and_unit(part)
        if parted:
            ways.append([_holding(words, word) for word in parted])
        told = [[*before, *way] for before in told for way in ways]
    return told


def _holding(words: WordList, typed: str) -> list[str]:
    if len(typed) == 1:
        return [f"{typed}*"]
    holding = words.holding(typed)
    return [f"{typed}*"] if len(holding) > MOST_WORDS else holding


Candidates = list[list[list[dict[str, int]]]]
"""For each part typed, the ways to meet it: each a list of near words with their errors, of which all are wanted."""


def _near_words(words: WordList, wanted: Sought) -> tuple[Candidates, list[Group]]:
    """The words that come near what was typed, and the groups to ask the index for."""
    candidates: Candidates = []
    for part in wanted.parts:
        if part.words:
            ways = [[_near_word(words, word) for word in part.words]]
            if len(part.words) > 1 and part.is_like_a_number:
                ways.append([words.near(part.squashed)])
            candidates.append([way for way in ways if all(way)])
    return candidates, [[[list(near) for near in way] for way in ways] for ways in candidates]


def _near_word(words: WordList, typed: str) -> dict[str, int]:
    holding = dict.fromkeys(words.holding(typed)[:MOST_WORDS], 0) if len(typed) > 1 else {}
    # A figure or two may stand in some longer number by accident: the near ones are looked at all the same.
    return holding if holding and typed.isalpha() else {**words.near(typed), **holding}


def _errors(candidates: Candidates, texts: Iterable[str]) -> int:
    """How many errors a row is off: for each part typed, those of the nearest way in which it meets it."""
    there = {word for text in texts for word in text.split()}
    return sum(min((_errors_of(way, there) for way in ways), default=_MISSED) for ways in candidates)


def _errors_of(way: Iterable[dict[str, int]], there: set[str]) -> int:
    return sum(min((errors for word, errors in near.items() if word in there), default=_MISSED) for near in way)


# Hits ---------------------------------------------------------------------------------------------------------------


def _same(hit: Hit) -> Hit:
    return hit


def _item_hit(wanted: Sought, row: looking_up.FoundItem, tier: Tier) -> Hit:
    item = row.item
    where = holding_field(wanted, _fields(item)) if tier is Tier.TEXT else ""
    title = item.title or item.text.partition("\n")[0]
    return Hit(
        "item", item.number, title, row.revision, tier.why, tier is Tier.NEAR, order=row.order, sign=_sign(item),
        where=where,
    )  # fmt: skip


def _sheet_hit(sheet: Sheet, tier: Tier) -> Hit:
    return Hit("drawing", sheet.name, sheet.title, sheet.revision, tier.why, tier is Tier.NEAR)


def _sign(item: Item) -> str:
    if item.state is State.DELETED:
        return "-"
    clearance = {"hold": "H", "material only": "M"}.get(item.clearance.strip().lower(), "")
    return clearance or ("§" if item.safety else "")


def _fields(item: Item) -> list[tuple[str, str]]:
    return [("Text", item.text), *item.said(), ("Reason", item.reason)]


def _said(item: Item) -> str:
    return APART.join(text for _, text in _fields(item))


def _said_of_sheet(sheet: Sheet) -> str:
    return APART.join([sheet.remarks, sheet.replaces, sheet.group])
