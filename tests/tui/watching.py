"""Looks at a running screen as a person does: its lines of text; waits for something to appear, never for ever."""

from __future__ import annotations

from collections.abc import Callable
from time import monotonic

from rich.segment import Segment
from textual import events
from textual.pilot import Pilot

from specreg.tui.app import SpecregApp
from tests.tui.fake_reader import FakeBook

LOW, TALL = (80, 24), (160, 50)
PATIENCE = 20.0
"""Seconds after which a test gives up waiting."""


def segments_of(app: SpecregApp) -> list[list[Segment]]:
    """Every line of the screen as painted, through the filters of the theme."""
    # The compositor is private to Textual 8.2.8; no public call gives the painted cells but a picture.
    return [list(strip) for strip in app.screen._compositor.render_strips()]


def lines_of(app: SpecregApp) -> list[str]:
    """Every line of the screen as text."""
    return ["".join(segment.text for segment in line) for line in segments_of(app)]


def text_of(app: SpecregApp) -> str:
    """The screen as one text."""
    return "\n".join(lines_of(app))


async def until(pilot: Pilot[None], condition: Callable[[], bool], what: str) -> None:
    """Wait until something is so; fail with the screen's text when it does not come about."""
    ends = monotonic() + PATIENCE
    while not condition():
        assert monotonic() < ends, f"waited in vain for {what}\n{text_of(pilot.app)}"  # type: ignore[arg-type]
        await pilot.pause(0.01)


async def until_shown(pilot: Pilot[None], text: str) -> None:
    """Wait until a text stands on the screen."""
    await until(pilot, lambda: text in text_of(pilot.app), repr(text))  # type: ignore[arg-type]


async def typed(pilot: Pilot[None], *keys: str) -> None:
    """Type keys without a pause between, by their names or characters, as a terminal sends them that was held up."""
    for key in keys:
        pilot.app.post_message(events.Key(key, key if len(key) == 1 else None))
    await pilot.pause()


def opened(book: FakeBook, start: str = "") -> SpecregApp:
    """The program over a fake book."""
    return SpecregApp(book.open, start)
