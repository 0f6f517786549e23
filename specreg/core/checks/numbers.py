"""Numbers: written in a form of the house, and none of another order left standing in the words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specreg.core.faults import Fault, Severity
from specreg.core.model import State
from specreg.core.number_forms import forms_of, pattern_of
from specreg.core.picture import Picture


def numbers_of_the_house(picture: Picture) -> Iterator[Fault]:
    """Numbers of drawings, patterns and standard parts have a form of the house. Older ones are taken as written."""
    drawings = ((sheet.number, sheet.number, sheet.title) for sheet in picture.sheets)
    yield from _of_another_form("drawing", drawings, picture)
    lines = picture.lines
    yield from _of_another_form("pattern", ((one.pattern, one.number, one.title) for one in lines), picture)
    yield from _of_another_form("part", ((one.part, one.number, one.title) for one in lines), picture)


def _of_another_form(kind: str, numbers: Iterable[tuple[str, str, str]], picture: Picture) -> Iterator[Fault]:
    """Of each number, with the subject and the title of what bears it, what is wrong with its form; said once."""
    forms = forms_of(kind, picture.standards.numbers)
    if not forms:
        return
    fits = pattern_of(forms).fullmatch
    told: set[str] = set()
    for number, subject, title in numbers:
        if number and number not in told and not fits(number):
            told.add(number)
            yield Fault(
                "number of another form",
                Severity.WARNING,
                subject,
                f"{kind.capitalize()} {number} {title} is not of a form of the house ({', '.join(forms)}); "
                "put it right, or let it pass if it is an old one.",
            )


def words_of_another_order(picture: Picture) -> Iterator[Fault]:
    """No text names another order: words copied from an older one name its machines and customer too."""
    forms = forms_of("order", picture.standards.numbers)
    if not forms:
        return
    find = pattern_of(forms).findall
    own = set(find(picture.order.number)) or {picture.order.number}
    for item in picture.items:
        if item.state is not State.LIVE:
            continue
        said = "\n".join((item.title, item.text, item.size, item.remarks, *(text for _, text in item.other)))
        for other in dict.fromkeys(find(said)):
            if other.replace("\u00a0", " ") not in own:
                yield Fault(
                    "another order named",
                    Severity.WARNING,
                    item.number,
                    f"{item.number} {item.title} names order {other}, and this is order {picture.order.number}; "
                    "look whether its words were meant for that one.",
                )


NUMBERS = (numbers_of_the_house, words_of_another_order)
