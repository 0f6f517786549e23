"""Whole numbers in words for reading: figures in threes, and a number with its noun."""

from __future__ import annotations


def grouped(number: int) -> str:
    """A whole number with its figures in threes, as printed in the trade's lists: `7 912`."""
    return f"{number:,}".replace(",", " ")


def so_many(number: int, noun: str, plural: str = "") -> str:
    """A number with its noun, singular or plural: `1 row`, `1 204 rows`, `2 entries`."""
    return f"{grouped(number)} {noun if number == 1 else plural or f'{noun}s'}"
