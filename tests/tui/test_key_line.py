"""The line of keys and the help: what is always offered, and that both fit every screen."""

from __future__ import annotations

import pytest

from specreg.tui.commands import COMMANDS, commands_on
from specreg.tui.help_paper import PURPOSE, help_lines
from specreg.tui.pieces import width_of
from specreg.tui.signs import SIGNS
from specreg.tui.widgets.key_line import key_line, keys_shown

PAGES = sorted({page for command in COMMANDS for page in command.pages})


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("width", [40, 60, 80, 132, 160])
def test_the_way_back_and_the_help_are_printed_on_every_page_that_has_them(page: str, width: int) -> None:
    printed = [command.name for command, _ in keys_shown(page, width)]
    for name in {"back", "help"} & {command.name for command in commands_on(page)}:
        assert name in printed
    assert width_of(key_line(page, width)) == width
    ends = [at + len(f"{command.shown} {command.word}") for command, at in keys_shown(page, width)]
    starts = [at for _, at in keys_shown(page, width)]
    assert all(end + 2 <= start for end, start in zip(ends, starts[1:], strict=False)) and ends[-1] + 2 <= width


def test_what_is_not_offered_leaves_its_room_to_others() -> None:
    printed, without = (
        [command.name for command, _ in keys_shown("compare", 80, left_out)] for left_out in ((), ("open", "other"))
    )
    assert "open" in printed and "find" not in printed
    assert "open" not in without and "other" not in without and "find" in without


@pytest.mark.parametrize("page", sorted(PURPOSE))
@pytest.mark.parametrize("width", [36, 76, 156])
def test_the_help_fits_its_paper_and_names_every_key_and_sign_in_full(page: str, width: int) -> None:
    lines = help_lines(page, width)
    assert all(width_of(line) <= width for line in lines)
    said = " ".join(" ".join("".join(piece.text for piece in line) for line in lines).split())
    for command in commands_on(page):
        assert f"{command.shown} {command.says}" in said
    for sign in SIGNS:
        assert f"{sign.sign} {sign.words}" in said
