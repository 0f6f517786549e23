"""Old and new text of a change, its changed words in brackets, flowed into lines in which no quantity is torn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from rich.cells import cell_len, set_cell_size

from specreg.core.word_changes import Run, RunKind, one_spaced, tokens
from specreg.tui.pieces import Line, Piece, width_of

LONG = 300
"""Signs from which on a text is long: what did not change in it is shortened."""

WORDS_KEPT = 8
"""Words and quantities that stay on each side of a change in a long text."""

LEAST_LEFT_OUT = 6
"""Words below which it is not worth leaving any out."""

GAP = "…"
_UNCHANGED = (RunKind.SAME, RunKind.SPACING)


def old_side(runs: Sequence[Run]) -> Line:
    """The old text, what was taken out in `[ ]`."""
    return _side([(run.kind, run.old) for run in runs], "[", "]", "taken")


def new_side(runs: Sequence[Run]) -> Line:
    """The new text, what was put in in `{ }`."""
    return _side([(run.kind, run.new) for run in runs], "{", "}", "put")


def _side(runs: Sequence[tuple[RunKind, str]], opens: str, closes: str, role: str) -> Line:
    is_long = sum(len(text) for _, text in runs) > LONG
    stretches = [
        (unchanged, "".join(text for _, text in stretch))
        for unchanged, stretch in groupby(runs, key=lambda run: run[0] in _UNCHANGED)
    ]
    pieces: list[Piece] = []
    for at, (unchanged, text) in enumerate(stretches):
        word = text.strip()
        if unchanged:
            after_one, before_one = at > 0, at < len(stretches) - 1
            pieces.append(Piece(shortened(text, after_one, before_one) if is_long else text))
        elif word:
            lead, tail = text[: len(text) - len(text.lstrip())], text[len(text.rstrip()) :]
            pieces += [Piece(lead), Piece(f"{opens}{word}{closes}", role), Piece(tail)]
        else:
            pieces.append(Piece(text))
    return tuple(piece for piece in pieces if piece.text)


def shortened(text: str, after_one: bool, before_one: bool) -> str:
    """An unchanged stretch with only the words next to the change before it and the one after it, cut between words.

    A quantity is one word, so none is ever cut.
    """
    parts = tokens(text)
    words = [at for at, part in enumerate(parts) if any(sign.isalnum() for sign in part)]
    if len(words) < WORDS_KEPT * (after_one + before_one) + LEAST_LEFT_OUT:
        return text
    head = "".join(parts[: words[WORDS_KEPT]]) if after_one else ""
    tail = "".join(parts[words[-WORDS_KEPT] :]) if before_one else ""
    return " ".join(part for part in (head.rstrip(), GAP, tail) if part)


def flowed(pieces: Iterable[Piece], width: int) -> tuple[Line, ...]:
    """The pieces in lines of at most `width` cells, broken at spaces and where the text breaks; at least one line.

    What no space parts stays together across pieces, and so does a quantity with its unit, unless it is wider than a
    line.
    """
    lines: list[Line] = []
    line: list[Piece] = []
    used = 0
    for space, word in _words(pieces):
        size = width_of(word)
        breaks = "\n" in space.text and (lines or line)
        if breaks or (line and used + 1 + size > width):
            lines.append(tuple(line))
            line, used = [], 0
        elif line:
            _add(line, Piece(" ", space.role))
            used += 1
        rest: Line = tuple(word)
        while size > max(1, width) and size > 1:
            head, rest = _split(rest, max(1, width))
            lines.append(head)
            size = width_of(rest)
        for piece in rest:
            _add(line, piece)
        used += size
    return (*lines, tuple(line)) if line or not lines else tuple(lines)


def _add(pieces: list[Piece], piece: Piece) -> None:
    """Put a piece at the end, as one with the piece before it where they have one role."""
    if pieces and pieces[-1].role == piece.role:
        pieces[-1] = Piece(pieces[-1].text + piece.text, piece.role)
    else:
        pieces.append(piece)


def _words(pieces: Iterable[Piece]) -> Iterable[tuple[Piece, list[Piece]]]:
    """The words, each with the space before it; a word is as many pieces as it has roles."""
    space, word = Piece(""), list[Piece]()
    for piece in pieces:
        for part in tokens(piece.text):
            if not part.isspace():
                _add(word, Piece(one_spaced(part), piece.role))
                continue
            if word:
                yield space, word
                space, word = Piece(part, piece.role), []
            else:
                space = Piece(space.text + part, piece.role)
    if word:
        yield space, word


def _split(word: Line, width: int) -> tuple[Line, Line]:
    """A word too wide for a line, parted where the line ends."""
    head: list[Piece] = []
    left = width
    for at, piece in enumerate(word):
        size = cell_len(piece.text)
        if size > left:
            text = set_cell_size(piece.text, left).rstrip() if left else ""
            text = text or ("" if head else piece.text[0])
            rest = Piece(piece.text[len(text) :], piece.role)
            return (*head, Piece(text, piece.role)), (rest, *word[at + 1 :])
        head.append(piece)
        left -= size
    return tuple(head), ()
