"""The looks: plain has no colour at all, the others are readable, and everything has a sign or a word."""

from __future__ import annotations

import pytest
from rich.color import Color, ColorType
from rich.style import Style

from specreg.tui.commands import COMMANDS, commands_on, key_line_of
from specreg.tui.help_paper import NAMES, PURPOSE
from specreg.tui.signs import SIGNS
from specreg.tui.themes import LOOKS, THEMES, Inks
from tests.tui.fake_reader import FakeBook
from tests.tui.watching import LOW, opened, segments_of, until, until_shown


def _colours(style: Style | None) -> set[Color]:
    if style is None:
        return set()
    return {colour for colour in (style.color, style.bgcolor) if colour and colour.type is not ColorType.DEFAULT}


async def test_plain_paints_without_any_colour_on_every_page() -> None:
    app = opened(FakeBook())
    # Tooltips are switched on because their style sheet asks more of a theme than the pages do.
    async with app.run_test(size=LOW, tooltips=True) as pilot:
        await until_shown(pilot, "Nothing lost")
        assert any(_colours(segment.style) for line in segments_of(app) for segment in line)
        await pilot.press("l", "l")
        await until(pilot, lambda: app.theme == "plain", "the plain look")
        for keys, shown in (("", "Nothing lost"), ("s", "All sections"), ("enter", "1.1.1"), ("slash", "Lately opened"),
                            ("escape", "1.1.1"), ("question_mark", "Help"), ("escape", "1.1.1"),
                            ("g", "Number ▸")):  # fmt: skip
            if keys:
                await pilot.press(keys)
            await until_shown(pilot, shown)
            coloured = [segment for line in segments_of(app) for segment in line if _colours(segment.style)]
            assert not coloured, (shown, coloured[:3])
        assert any(segment.style and segment.style.reverse for line in segments_of(app) for segment in line)


def _luminance(colour: Color) -> float:
    """Relative luminance as WCAG 2.1 defines it: https://www.w3.org/TR/WCAG21/#dfn-relative-luminance."""
    parts = [part / 255 for part in colour.get_truecolor()]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("name", [name for name in THEMES if name != "plain"])
@pytest.mark.parametrize("on_cursor", [False, True])
def test_every_role_is_readable_on_its_ground(name: str, on_cursor: bool) -> None:
    # 4.5 : 1 is the least contrast of text, WCAG 2.1 success criterion 1.4.3.
    inks = Inks(LOOKS[name])
    for role in LOOKS[name].roles:
        if role == "frame" and on_cursor:
            continue  # the frame is never painted in the cursor's row
        style = inks(role, on_cursor)
        assert style.color and style.bgcolor
        light, dark = sorted((_luminance(style.color), _luminance(style.bgcolor)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5, (name, role, on_cursor)


def test_every_look_knows_the_same_roles_and_every_sign_has_one() -> None:
    roles = {frozenset(look.roles) for look in LOOKS.values()}
    assert len(roles) == 1
    assert {sign.role for sign in SIGNS} <= next(iter(roles))
    assert all(sign.words for sign in SIGNS)


def test_every_page_has_help_and_no_key_does_two_things_on_a_page() -> None:
    assert set(NAMES) == set(PURPOSE)
    for page in {page for command in COMMANDS for page in command.pages}:
        keys = [key for command in commands_on(page) for key in command.keys.split(",")]
        assert len(keys) == len(set(keys)), page
        assert key_line_of(page)
        assert all(command.says.endswith(".") for command in commands_on(page))


def test_no_letter_is_a_command_where_text_is_typed() -> None:
    assert not [key for command in commands_on("find") for key in command.keys.split(",") if len(key) == 1]
