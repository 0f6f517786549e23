"""Asking the book without holding up the screen: a reader for each thread, questions in threads, late answers dropped.

A widget never waits for SQL. It puts a question under a subject; a thread asks its own reader and posts the answer
with a generation number; when the widget has meanwhile put a newer question under the same subject, the answer is
dropped and the old question told to stop.
"""

from __future__ import annotations

import contextlib
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from textual.dom import DOMNode
from textual.message import Message
from textual.worker import get_current_worker

from specreg.core.errors import BookUnusable, SpecregError
from specreg.services.readings import Reader

Answered = TypeVar("Answered")

THREADS = 3
"""Threads that ask: one for find, one for pages of rows, one to spare. Each costs a reader with its memory."""

CLOSING_SECONDS = 2.0
"""How long leaving waits for a thread that is still busy before its reader is closed later, by itself."""


class Readers:
    """One reader for each thread that asks, opened when it first asks and closed by that same thread."""

    def __init__(self, open_reader: Callable[[], Reader]) -> None:
        self._open = open_reader
        self._local = threading.local()
        self._closed = False
        self.executor = ThreadPoolExecutor(max_workers=THREADS, thread_name_prefix="specreg-reader")

    def mine(self) -> Reader:
        """The reader of the thread that calls. Raises what opening a book raises."""
        if self._closed:
            raise BookUnusable("The book cannot be read", "the program is being left")
        reader: Reader | None = getattr(self._local, "reader", None)
        if reader is None:
            reader = self._open()
            self._local.reader = reader
        return reader

    def close(self) -> None:
        """Close every reader, each in the thread that opened it. Call it from the thread of the screen."""
        if self._closed:
            return
        self._closed = True
        self._close_mine()
        # All threads must stand at the barrier at once, so each takes exactly one of these jobs.
        barrier = threading.Barrier(THREADS)
        for _ in range(THREADS):
            self.executor.submit(self._close_in_thread, barrier)
        self.executor.shutdown(wait=True)

    def _close_in_thread(self, barrier: threading.Barrier) -> None:
        with contextlib.suppress(threading.BrokenBarrierError):
            barrier.wait(CLOSING_SECONDS)
        self._close_mine()

    def _close_mine(self) -> None:
        reader: Reader | None = getattr(self._local, "reader", None)
        if reader is not None:
            self._local.reader = None
            reader.close()


def stopped() -> bool:
    """Whether the question that this thread works on is no longer wanted."""
    return get_current_worker().is_cancelled


def plain_sentence(error: Exception) -> str:
    """What the dialog says of an error: a refusal's own sentence, or a plain one for a mistake of the program."""
    if isinstance(error, SpecregError):
        return error.sentence
    said = str(error).strip().splitlines()
    detail = f" ({type(error).__name__}: {said[0]})" if said else f" ({type(error).__name__})"
    return f"The book could not be read just now{detail}. Nothing was changed. Try again, or leave and start anew."


class Answer(Message, bubble=False):
    """An answer on its way from a thread to the widget that asked; `trouble` is the sentence when there is none."""

    def __init__(self, subject: str, generation: int, deliver: Callable[[], None], trouble: str = "") -> None:
        self.subject = subject
        self.generation = generation
        self.deliver = deliver
        self.trouble = trouble
        super().__init__()


class Trouble(Message):
    """Something could not be read; the screen says so in a dialog."""

    def __init__(self, sentence: str) -> None:
        self.sentence = sentence
        super().__init__()


class Asking(DOMNode):
    """What makes a screen or widget able to ask. Questions are asked in a thread; answers come back on the screen's."""

    def ask(
        self,
        subject: str,
        question: Callable[[], Answered],
        then: Callable[[Answered], None],
        otherwise: Callable[[str], None] | None = None,
    ) -> None:
        """Put a question; `then` gets the answer, unless a newer question of the same subject was put meanwhile.

        `question` runs in a thread, where `stopped` says whether it is still wanted. Trouble is shown in a dialog, or
        handed to `otherwise` as a sentence.
        """
        generation = self.forget(subject)

        def job() -> None:
            try:
                answer = question()
            except Exception as error:  # the screen must stand, whatever a reader does; the sentence tells the user
                self.log.error(repr(error))
                tell = otherwise or self.say_trouble
                sentence = plain_sentence(error)
                self.post_message(Answer(subject, generation, lambda: tell(sentence), sentence))
            else:
                self.post_message(Answer(subject, generation, lambda: then(answer)))

        self.run_worker(job, group=subject, thread=True, exit_on_error=False)

    def forget(self, subject: str) -> int:
        """Want no answer to what was asked under a subject, tell it to stop; gives the next question's generation."""
        self.workers.cancel_group(self, subject)
        self._generations = {**self._asked(), subject: self._asked().get(subject, 0) + 1}
        return self._generations[subject]

    def _asked(self) -> dict[str, int]:
        asked: dict[str, int] = getattr(self, "_generations", {})
        return asked

    def say_trouble(self, sentence: str) -> None:
        """Have the screen show a sentence in a dialog."""
        self.post_message(Trouble(sentence))

    def on_answer(self, answer: Answer) -> None:
        """Deliver an answer that is still wanted, drop one that is late."""
        if self._asked().get(answer.subject) == answer.generation:
            answer.deliver()
