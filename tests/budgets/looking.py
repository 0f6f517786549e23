"""Budgets of looking up: find beside a search through the same text, the index beside it, keys to painted hits."""

from __future__ import annotations

import asyncio
import shutil
import sqlite3
from collections.abc import Iterable, Iterator
from itertools import islice
from pathlib import Path
from random import Random
from time import perf_counter

from textual import events

from specreg.bootstrap import doer, open_reader
from specreg.core.model import Item
from specreg.services.finding import Finder
from specreg.settings import Settings
from specreg.store import items
from specreg.tui.app import SpecregApp
from specreg.tui.screens.find import FindScreen
from tests.budgets.figures import Figure, Task, process, timed_each
from tests.budgets.trial import FULL_SIZE, Trial

QUERIES = 200
KEYED = 8
"""Texts looked up, and how many of them are typed into the screen, letter by letter."""


def looking(trial: Trial) -> Iterator[Figure]:
    """Find, its index, and the painted answer to a key."""
    great = trial.items > 20 * FULL_SIZE
    asked = queries(trial)
    finder = Finder(trial.office)
    finder.find(asked[0])
    ours = timed_each(lambda text=text: finder.find(text) for text in asked)  # type: ignore[misc]
    text = _text_of(trial)
    program = shutil.which("rg") or shutil.which("grep")
    theirs: tuple[float, ...] = ()
    if program:
        searches: Iterable[Task] = (process(program, "-i", "-c", one, str(text)) for one in asked[:40])
        theirs = timed_each(searches)
    must = "median 0.1 ×, p95 0.5 ×" if great else "p95 5 ms"
    yield Figure("find, one look-up", ours, f"{Path(program).name if program else 'no search'} -i -c over the text",
                 theirs, must)  # fmt: skip
    if not great:
        yield Figure("find, one look-up", ours, "LIKE scan of the rows", _scans(trial, asked), must)
    yield _index(trial, text)
    keyed = asyncio.run(_keys_to_hits(trial.book, asked[:KEYED]))
    yield Figure("key to painted hits", keyed, must=f"p95 {100 if great else 50} ms")


def queries(trial: Trial) -> list[str]:
    """What a clerk types: whole words, halves, two words, misspelt ones, numbers and half numbers, by turns."""
    random = Random(7)
    standing = list(islice(_spread(trial), 4 * QUERIES))
    return [_query(random, random.choice(standing), turn % 6) for turn in range(QUERIES)]


def _spread(trial: Trial) -> Iterator[Item]:
    """Items from all over the order."""
    apart = max(1, trial.count // (4 * QUERIES))
    for place, standing in enumerate(items.all_now(trial.office.book, trial.office.order_id)):
        if place % apart == 0 and standing.item.title:
            yield standing.item


def _query(random: Random, item: Item, kind: int) -> str:
    words = [word.strip(",.") for word in item.title.split() if len(word) > 4] or [item.title]
    word = random.choice(words)
    if kind == 1:
        return word[: max(3, len(word) // 2)]
    if kind == 2:
        return " ".join(words[:2])
    if kind == 3 and len(word) > 4:
        at = random.randrange(1, len(word) - 2)
        return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    if kind == 4:
        return item.number
    if kind == 5 and item.drawing:
        return item.drawing.split(",")[0][-5:]
    return word


def _text_of(trial: Trial) -> Path:
    """All that is said of every item, a line each, as a search through text would have it."""
    file = trial.folder / "text.txt"
    with file.open("w", encoding="utf-8") as out:
        for standing in items.all_now(trial.office.book, trial.office.order_id):
            item = standing.item
            said = [item.number, item.title, item.text, *(value for _, value in item.said())]
            out.write("\t".join(one.replace("\n", " ") for one in said if one) + "\n")
    return file


def _index(trial: Trial, text: Path) -> Figure:
    query = "SELECT sum(pgsize) FROM dbstat WHERE name LIKE 'item_words%'"
    try:
        (size,) = trial.office.book.db.execute(query).fetchone()
    except sqlite3.OperationalError:
        return Figure("word index", (), must="1.25 ×", left_out="this SQLite does not tell what its tables take")
    return Figure("word index", (size / 1e6,), "the text", (text.stat().st_size / 1e6,), "1.25 ×", "MB")


def _scans(trial: Trial, asked: list[str]) -> tuple[float, ...]:
    db = trial.office.book.db
    query = "SELECT count(*) FROM item_now WHERE number || title || text || size || material || drawing LIKE ?"
    return timed_each(lambda text=text: db.execute(query, (f"%{text}%",)).fetchone() for text in asked[:40])  # type: ignore[misc]


async def _keys_to_hits(book: Path, texts: list[str]) -> tuple[float, ...]:
    """Seconds from each key of some texts to the painted hits for all that is typed by then."""
    settings = Settings(book=str(book))
    app = SpecregApp(lambda: open_reader(settings), doer=doer(settings))
    times: list[float] = []
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("slash")
        await pilot.pause(0.3)
        screen = app.screen
        assert isinstance(screen, FindScreen)
        for text in texts:
            before = screen.typing.text
            for key in text:
                start = perf_counter()
                app.post_message(events.Key("space" if key == " " else key, key))
                await asyncio.sleep(0)
                while screen.typing.text == before or screen.searching:
                    await asyncio.sleep(0.001)
                painted = asyncio.Event()
                screen.call_after_refresh(painted.set)
                await painted.wait()
                times.append(perf_counter() - start)
                await asyncio.sleep(0.1)
                before = screen.typing.text
            await pilot.press(*["backspace"] * len(text))
            await pilot.pause(0.1)
    return tuple(times)
