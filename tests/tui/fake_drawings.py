"""Invented drawings and comparisons, for the fake reader."""

from __future__ import annotations


class FakeDrawings:
    """The part of the fake reader that knows drawings and comparisons."""
