"""What makes a page able to turn to its neighbours."""

from __future__ import annotations

from abc import abstractmethod


class Stepping:
    """Goes to the next and to the one before; steps typed while the book is still being read add up, so that none is
    lost. A page sets `steps` back to 0 when an answer or a refusal comes.

    A plain class on purpose: of several bases that are nodes Textual would look for styles in the first alone.
    """

    steps = 0

    @abstractmethod
    def step(self, steps: int) -> None:
        """Ask for the one so many further, back when negative; 0 is the one that is shown."""

    def action_next(self) -> None:
        """To the next."""
        self._go(1)

    def action_before(self) -> None:
        """To the one before."""
        self._go(-1)

    def _go(self, by: int) -> None:
        self.steps += by
        self.step(self.steps)
