"""A figure of a budget: what a work took over several runs, beside a peer in the same run; and figures as a table."""

from __future__ import annotations

import gc
import math
import statistics
import subprocess
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

Task = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Figure:
    """One line of the table.

    `ours` and `theirs` are what each run of the work and of its `peer` took, in `unit` (seconds, or MB); `must` says
    what DEVELOPERS.md holds it to, in words. `left_out` says why there are no runs at this size.
    """

    work: str
    ours: tuple[float, ...]
    peer: str = ""
    theirs: tuple[float, ...] = ()
    must: str = ""
    unit: str = "s"
    left_out: str = ""

    @property
    def median(self) -> float | None:
        """The middle of our runs."""
        return statistics.median(self.ours) if self.ours else None

    @property
    def p95(self) -> float | None:
        """What 95 of 100 runs keep under, by the nearest rank; None where there are too few runs for it to mean more
        than the slowest."""
        return nearest_rank(self.ours, 0.95) if len(self.ours) >= 20 else None

    @property
    def peer_median(self) -> float | None:
        """The middle of the peer's runs."""
        return statistics.median(self.theirs) if self.theirs else None

    @property
    def ratio(self) -> float | None:
        """Our median to the peer's."""
        return self.median / self.peer_median if self.median is not None and self.peer_median else None

    def as_json(self) -> dict[str, object]:
        """Its keys stay."""
        return {
            "work": self.work, "unit": self.unit, "runs": len(self.ours), "median": self.median, "p95": self.p95,
            "peer": self.peer, "peer_median": self.peer_median, "ratio": self.ratio, "must": self.must,
            "left_out": self.left_out,
        }  # fmt: skip


def nearest_rank(values: Sequence[float], share: float) -> float:
    """The least of the values that so large a share of them does not exceed."""
    return sorted(values)[max(0, math.ceil(share * len(values)) - 1)]


def timed(task: Task, runs: int = 5) -> tuple[float, ...]:
    """Seconds of a task, run by run; what others left behind is cleared away before each."""
    return tuple(_once(task) for _ in range(runs))


def _once(task: Task) -> float:
    gc.collect()
    start = time.perf_counter()
    task()
    return time.perf_counter() - start


def timed_each(tasks: Iterable[Task]) -> tuple[float, ...]:
    """Seconds of each of several small tasks, one after the other."""
    times = []
    for task in tasks:
        start = time.perf_counter()
        task()
        times.append(time.perf_counter() - start)
    return tuple(times)


def process(*words: str) -> Task:
    """A whole process, its output thrown away, whatever it comes to."""
    return lambda: subprocess.run(words, check=False, capture_output=True)


def table(figures: Iterable[Figure]) -> str:
    """The figures under one another."""
    rows = [("work", "median", "p95", "peer's", "ratio", "must", "peer")]
    for one in figures:
        if one.left_out:
            rows.append((one.work, "-", "", "", "", one.must, one.left_out))
            continue
        ratio = f"{one.ratio:.2f} ×" if one.ratio is not None else ""
        median, p95, peer = (_said(value, one.unit) for value in (one.median, one.p95, one.peer_median))
        rows.append((one.work, median, p95, peer, ratio, one.must, one.peer))
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    right = {1, 2, 3, 4}
    lines = [
        "  ".join(cell.rjust(width) if place in right else cell.ljust(width)
                  for place, (cell, width) in enumerate(zip(row, widths, strict=True))).rstrip()
        for row in rows
    ]  # fmt: skip
    return "\n".join(lines) + "\n"


def _said(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    if unit == "s":
        return f"{1000 * value:.2f} ms" if value < 0.1 else f"{value:.3f} s"
    return f"{value:.2f} {unit}" if value < 10 else f"{value:.0f} {unit}"
