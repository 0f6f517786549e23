"""The word index: which items and drawings hold which words, and the list of all words.

Words are cut by `specreg.core.wording`, not by SQLite, so that fractions and numbers are kept whole; what the index
is given is already plain words between spaces. It is told exactly the old words when an item changes, else ghosts
would stay.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from typing import Literal

from specreg.core.model import Item, Sheet
from specreg.core.wording import abbreviations, index_words, number_words
from specreg.store.database import WorksBook

Subject = Literal["item", "drawing"]


_NOT_INDEXED = frozenset({"Per", "Spares"})


def item_texts(item: Item) -> tuple[str, str, str]:
    """The three columns of the index for an item: number, title, and everything else that is said of it."""
    rest = [item.text, item.reason]
    # A bare number off is no word to find an item by; `as required` is.
    rest += [said for label, said in item.said() if label not in _NOT_INDEXED and not said.isdecimal()]
    words = [word for text in rest if text for word in (*index_words(text), *abbreviations(text))]
    words += [word for number in (*item.drawings, item.pattern, item.part) if number for word in number_words(number)]
    return " ".join(number_words(item.number)), " ".join(_title_words(item.title)), " ".join(words)


def _title_words(title: str) -> list[str]:
    return [*index_words(title), *abbreviations(title)]


def sheet_texts(number: str, sheets: Sequence[Sheet]) -> tuple[str, str, str]:
    """The three columns for a drawing: its number, the titles of its sheets, the rest."""
    numbers = [word for sheet in sheets for word in number_words(sheet.name)]
    titles = [word for sheet in sheets for word in _title_words(sheet.title)]
    rest = [word for sheet in sheets for word in index_words(f"{sheet.remarks} {sheet.replaces} {sheet.group}")]
    return " ".join(dict.fromkeys(number_words(number) + numbers)), " ".join(dict.fromkeys(titles)), " ".join(rest)


def replace_item(book: WorksBook, item_id: int, before: Item | None, after: Item | None) -> None:
    """Take the old words of an item out of the index and put the new ones in."""
    replace(book, "item", item_id, item_texts(before) if before else None, item_texts(after) if after else None)


def replace(
    book: WorksBook,
    subject: Subject,
    subject_id: int,
    before: tuple[str, str, str] | None,
    after: tuple[str, str, str] | None,
) -> None:
    """The same for either index; texts are those of `item_texts` or `sheet_texts`."""
    if before == after:
        return
    table = f"{subject}_words"
    if before:
        book.db.execute(
            f"INSERT INTO {table} ({table}, rowid, number, title, words) VALUES ('delete', ?, ?, ?, ?)",
            (subject_id, *before),
        )
    if after:
        book.db.execute(f"INSERT INTO {table} (rowid, number, title, words) VALUES (?, ?, ?, ?)", (subject_id, *after))


def clear(book: WorksBook, subject: Subject) -> None:
    """Empty an index, to fill it anew."""
    book.db.execute(f"INSERT INTO {subject}_words ({subject}_words) VALUES ('delete-all')")


def word_list(book: WorksBook, subject: Subject) -> list[str]:
    """Every word that stands in an index."""
    return [word for (word,) in book.db.execute(f"SELECT term FROM {subject}_word_list")]


Group = Sequence[Sequence[Sequence[str]]]
"""What will do for one part typed: alternatives, each a list of word sets of which every one must be met by a word.

A word that ends in `*` means every word that begins so.
"""


def matching(book: WorksBook, subject: Subject, groups: Sequence[Group], limit: int) -> list[int]:
    """Identities that meet every group, at most `limit`, in the order they were first entered."""
    query = _query(groups)
    if not query:
        return []
    try:
        rows = book.db.execute(
            f"SELECT rowid FROM {subject}_words WHERE {subject}_words MATCH ? LIMIT ?", (query, limit)
        )
        return [row for (row,) in rows]
    except sqlite3.OperationalError as error:
        if "phrase" not in str(error):
            raise
        # A word that SQLite cuts apart (a letter younger than its tables) stands whole in no index.
        return []


def _query(groups: Sequence[Group]) -> str:
    """The groups in SQLite's words; empty when some group can be met by nothing."""
    terms = []
    for group in groups:
        alternatives = [
            " AND ".join(f"({' OR '.join(_quoted(word) for word in words)})" for words in alternative)
            for alternative in group
            if alternative and all(alternative)
        ]
        if not alternatives:
            return ""
        terms.append("(" + " OR ".join(f"({one})" for one in alternatives) + ")")
    return " AND ".join(terms)


def _quoted(word: str) -> str:
    # Every word is quoted: nothing a person typed is ever read as syntax.
    bare = word.removesuffix("*").replace('"', '""')
    return f'"{bare}"*' if word.endswith("*") else f'"{bare}"'
