"""All words of an index held in memory as one text, in which half words and misspelt words are looked up."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, field

MOST_WORDS = 300
"""So many words of the list are taken for one typed; beyond, only those that begin with it."""

_MOST_NEAR = 20


@dataclass(slots=True)
class WordList:
    """The words, sorted; looking one through for half a word takes about a microsecond for each thousand words."""

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

    def near(self, typed: str) -> dict[str, int]:
        """Words within one error of a short word, or two of a longer, with how many: a letter dropped, doubled, wrong,
        or swapped with the next. The nearest come first."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if len(typed) < 3:
            return {}
        errors = 1 if len(typed) < 6 else 2
        within = process.extract(typed, self.words, scorer=OSA.distance, score_cutoff=errors, limit=None)
        # Of equally near words those with the same signs come first: figures are swapped more often than mistaken.
        signs = sorted(typed)
        nearest = sorted(within, key=lambda one: (one[1], sorted(one[0]) != signs))[:_MOST_NEAR]
        if nearest or len(typed) < 5:
            return {word: int(distance) for word, distance, _ in nearest}
        return self._near_half(typed)

    def _near_half(self, typed: str) -> dict[str, int]:
        """Half a word, misspelt: held against as much of each word as was typed."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        heads: dict[str, list[str]] = {}
        for word in self.words:
            if len(word) > len(typed):
                heads.setdefault(word[: len(typed)], []).append(word)
        close = process.extract(typed, list(heads), scorer=OSA.distance, score_cutoff=1, limit=10)
        found = [(word, int(distance)) for head, distance, _ in close for word in heads[head]]
        return dict(found[: 2 * _MOST_NEAR])
