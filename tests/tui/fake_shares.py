"""Invented shares of departments, for the fake reader."""

from __future__ import annotations


class FakeShares:
    """The part of the fake reader that knows the departments."""
