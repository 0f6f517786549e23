"""Finding items, drawings and notes from half a word, half a number, or a misspelling.

A typed word is looked up in the list of all words that stand in the book: words that hold it, or, when there are none,
words within one or two errors of it. SQLite is then asked for whole words only; what must stand together (`S/2`) is
checked in the few rows found. Hits come in tiers: the number itself, numbers that begin so, numbers that hold it,
titles with words that begin so, titles that hold it, texts, near misses; within a tier in specification order.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import partial

from specreg.core.model import Item, Sheet
from specreg.core.numbering import number_key, squashed
from specreg.core.wording import Part, begins_word_in, fold, stands_in, typed_parts
from specreg.services.office import Office
from specreg.services.readings import Found, Hit
from specreg.store import looking_up, notes, word_index
from specreg.store.database import WorksBook
from specreg.store.word_index import Group, Subject

MOST_WORDS = 300
"""So many words of the list are taken for one typed; beyond, only those that begin with it."""

MOST_ROWS = 20_000
"""So many rows are looked at when parts must stand together."""


def _never() -> bool:
    return False


@dataclass(slots=True)
class WordList:
    """All words of an index, held as one text: about one microsecond a thousand words to look through."""

    words: list[str]
    joined: str = field(init=False)

    def __post_init__(self) -> None:
        self.words.sort()
        self.joined = "\n".join(["", *self.words, ""])

    def beginning(self, typed: str) -> list[str]:
        """Words that begin with what was typed."""
        first = bisect_left(self.words, typed)
        last = bisect_left(self.words, typed + "\U0010ffff")
        return self.words[first:last]

    def holding(self, typed: str, most: int = MOST_WORDS) -> list[str]:
        """Words that hold what was typed, at most so many and one."""
        found: list[str] = []
        place = self.joined.find(typed)
        while place >= 0 and len(found) <= most:
            first = self.joined.rfind("\n", 0, place) + 1
            last = self.joined.find("\n", place)
            found.append(self.joined[first:last])
            place = self.joined.find(typed, last)
        return found

    def near(self, typed: str) -> list[str]:
        """Words within one error of a short word, or two of a longer: a letter dropped, doubled, wrong or swapped."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if len(typed) < 3:
            return []
        errors = 1 if len(typed) < 6 else 2
        found = process.extract(typed, self.words, scorer=OSA.distance, score_cutoff=errors, limit=20)
        if not found and len(typed) >= 5:
            # Half a word, misspelt: held against as much of each word as was typed.
            heads: dict[str, list[str]] = {}
            for word in self.words:
                if len(word) > len(typed):
                    heads.setdefault(word[: len(typed)], []).append(word)
            close = process.extract(typed, list(heads), scorer=OSA.distance, score_cutoff=1, limit=10)
            return [word for head, _, _ in close for word in heads[head]][:40]
        return [word for word, _, _ in found]


class Finder:
    """Looks things up in one book; keeps the word lists until somebody writes."""

    def __init__(self, office: Office) -> None:
        self._office = office
        self._book: WorksBook = office.book
        self._version = -1
        self._lists: dict[Subject, WordList] = {}

    def find(self, text: str, limit: int = 50, stopped: Callable[[], bool] = _never) -> Found:
        """The first hits for what was typed, and how many there are. Nothing typed raises an error."""
        with self._book.reading():
            parts = typed_parts(text)
            if not parts:
                return Found(text, 0, ())
            hits = self._tiers(parts, near=False, stopped=stopped)
            if not hits and not stopped():
                hits = self._tiers(parts, near=True, stopped=stopped)
            hits.sort(key=lambda ranked: ranked[:2])
            return Found(text, len(hits), tuple(hit for *_, hit in hits[:limit]))

    def _list(self, subject: Subject) -> WordList:
        version = self._book.version()
        if version != self._version:
            self._lists.clear()
            self._version = version
        if subject not in self._lists:
            self._lists[subject] = WordList(word_index.word_list(self._book, subject))
        return self._lists[subject]

    def _tiers(self, parts: Sequence[Part], near: bool, stopped: Callable[[], bool]) -> list[tuple[int, str, Hit]]:
        """Every hit with its tier and its place within the tier."""
        found = self._items(parts, near, stopped)
        if not stopped():
            found += self._sheets(parts, near)
        if not near:
            found += self._notes(parts)
        return found

    def _items(self, parts: Sequence[Part], near: bool, stopped: Callable[[], bool]) -> list[tuple[int, str, Hit]]:
        order_id = self._office.standing.order_id if self._office.standing else None
        groups = self._groups("item", parts, near)
        if groups is None:
            rows = looking_up.items_holding(self._book, [part.folded for part in parts])
        else:
            rows = looking_up.items_of(self._book, word_index.matching(self._book, "item", groups, MOST_ROWS))
        found: list[tuple[int, str, Hit]] = []
        for row in rows:
            if stopped():
                break
            if order_id is not None and row.order_id != order_id:
                continue
            tier = _tier(parts, row.item.number, row.item.title, partial(_said, row.item), near)
            if tier is not None:
                title = row.item.title or row.item.text.partition("\n")[0]
                hit = Hit("item", row.item.number, title, row.revision, _WHY[tier], near, order=row.order)
                found.append((tier, f"1{row.item.place_key}", hit))
        return found

    def _sheets(self, parts: Sequence[Part], near: bool) -> list[tuple[int, str, Hit]]:
        groups = self._groups("drawing", parts, near)
        if groups is None:
            rows = looking_up.sheets_holding(self._book, [part.folded for part in parts])
        else:
            rows = looking_up.sheets_of(self._book, word_index.matching(self._book, "drawing", groups, MOST_ROWS))
        found: list[tuple[int, str, Hit]] = []
        for sheet in rows:
            tier = _tier(parts, sheet.name, sheet.title, partial(_said_of_sheet, sheet), near)
            if tier is not None:
                hit = Hit("drawing", sheet.name, sheet.title, sheet.revision, _WHY[tier], near)
                found.append((tier, f"2{number_key(sheet.name)}", hit))
        return found

    def _notes(self, parts: Sequence[Part]) -> list[tuple[int, str, Hit]]:
        if self._office.standing is None:
            return []
        found: list[tuple[int, str, Hit]] = []
        for standing in notes.of_order(self._book, self._office.standing.order_id):
            note = standing.note
            if note.is_compilation:
                continue
            tier = _tier(parts, f"note {note.number}", note.words, partial(str, note.authority), near=False)
            if tier is not None:
                order = self._office.order_no
                hit = Hit("note", note.name, note.words, note.state, _WHY[tier], near=False, order=order)
                found.append((tier, f"3{note.number}", hit))
        return found

    def _groups(self, subject: Subject, parts: Sequence[Part], near: bool) -> list[Group] | None:
        """For each part typed, the words of the list that will do; None when only punctuation was typed."""
        if not any(part.words for part in parts):
            return None
        return [self._group(self._list(subject), part, near) for part in parts if part.words]

    def _group(self, words: WordList, part: Part, near: bool) -> Group:
        """Each alternative of a group is a list of word sets that must all be met."""
        together = [self._alternatives(words, word, near) for word in part.words]
        alternatives = [together]
        if len(part.words) > 1 and part.squashed:
            alternatives.append([words.holding(part.squashed)[:MOST_WORDS]])
        return alternatives

    def _alternatives(self, words: WordList, typed: str, near: bool) -> list[str]:
        if len(typed) == 1:
            return [f"{typed}*"]
        holding = words.holding(typed)
        if len(holding) > MOST_WORDS:
            return [f"{typed}*"]
        if holding or not near:
            return holding
        return words.near(typed)


_NUMBER, _NUMBER_START, _NUMBER_HOLDS, _TITLE_START, _TITLE, _TEXT, _NEAR = range(7)
_WHY = {
    _NUMBER: "number", _NUMBER_START: "number", _NUMBER_HOLDS: "number", _TITLE_START: "title", _TITLE: "title",
    _TEXT: "text", _NEAR: "near",
}  # fmt: skip


def _tier(parts: Sequence[Part], number: str, title: str, said: Callable[[], str], near: bool) -> int | None:
    """In which tier a row belongs; None when what was typed together does not stand together in it."""
    if near:
        return _NEAR
    typed = "".join(part.squashed for part in parts)
    bare = squashed(fold(number))
    if typed and bare == typed:
        return _NUMBER
    if typed and bare.startswith(typed):
        return _NUMBER_START
    if all(stands_in(part, number) for part in parts) or (
        len(typed) > 2 and any(map(str.isdecimal, typed)) and typed in bare
    ):
        return _NUMBER_HOLDS
    if all(stands_in(part, title) for part in parts):
        return _TITLE_START if all(begins_word_in(part, title) for part in parts) else _TITLE
    whole = f"{number}\n{title}\n{said()}"
    if all(stands_in(part, whole) for part in parts):
        return _TEXT
    return None


def _said(item: Item) -> str:
    return "\n".join([item.text, *(text for _, text in item.said())])


def _said_of_sheet(sheet: Sheet) -> str:
    return "\n".join([sheet.remarks, sheet.replaces, sheet.group])
