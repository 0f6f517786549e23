"""Which stock is like which, and what tells its pieces apart."""

from __future__ import annotations

import pytest

from specreg.core.stock.alike import alike, is_named, rough_size
from specreg.core.stock.records import Stock
from tests.core.stock.works import WORKS, stock_of


def stock(size: str, material: str = "mild steel") -> Stock:
    read = stock_of(size, material)
    assert isinstance(read, Stock), str(read)
    return read


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ('3" dia x 8\' 4"', "3 in dia x 5 in"),
        ('1 1/2" dia x 6"', "38.1 mm dia x 100 mm"),
        ('2" o.d. x 1/4" wall x 4\' 0"', '1 1/2" bore x 1/4" wall x 7\' 0"'),
        ('4" o.d. x 3" i.d. x 5"', '4" o.d. x 1/2" thick x 9"'),
        ('3" x 2" x 3/8" angle x 4\' 0"', '2" x 3" x 3/8" angle x 6\' 0"'),
        ('5/8" plate 6\' 0" x 4\' 0"', 'plate 2\' 0" x 5/8" x 3\' 0"'),
        ("203x133x25 UB x 12 ft", "UB 203 x 133 x 25 x 4 m"),
        ('100 lb/yd rail x 30 ft', '100 lb/yd rail x 20 ft'),
        ('3/4" dia x 3" B.S.W.', '3/4" B.S.W. x 3"'),
    ],
)  # fmt: skip
def test_the_same_section_in_other_words_is_alike(one: str, other: str):
    assert alike(stock(one), "mild steel", WORKS).key == alike(stock(other), "M.S.", WORKS).key


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ('3" dia x 8\' 4"', '3" sq x 8\' 4"'),
        ('3" dia x 8\' 4"', '3 1/16" dia x 8\' 4"'),
        ('5/8" plate 6\' 0" x 4\' 0"', '3/4" plate 6\' 0" x 4\' 0"'),
        ('5/8" thick x 3\' 0" dia disc', '5/8" thick x 4\' 0" dia disc'),
        ("203x133x25 UB x 12 ft", "203x133x30 UB x 12 ft"),
        ('100 lb/yd rail x 30 ft', '90 lb/yd rail x 30 ft'),
        ('3/4" dia x 3" B.S.W.', '3/4" dia x 3" B.S.F.'),
        ('3/4" dia x 3" B.S.W.', '3/4" dia x 4" B.S.W.'),
    ],
)  # fmt: skip
def test_another_section_is_not_alike(one: str, other: str):
    assert alike(stock(one), "mild steel", WORKS).key != alike(stock(other), "mild steel", WORKS).key


def test_another_material_is_not_alike():
    size = '3" dia x 8\' 4"'
    assert alike(stock(size), "mild steel", WORKS).key != alike(stock(size), "phosphor bronze", WORKS).key


def test_it_is_called_by_the_name_the_works_have_and_the_section_as_written():
    assert alike(stock('3" dia x 8\' 4"'), "M.S.", WORKS).name == 'mild steel, round 3"'
    assert alike(stock('2" o.d. x 10 S.W.G. x 4\' 0"'), "Muntz  metal", WORKS).name == (
        'Muntz metal, tube 2" outside x 10 S.W.G. wall'
    )
    assert alike(stock("about 9 cwt"), "", WORKS).name == "(no material), by weight"
    assert alike(stock("203x133x25 UB x 12 ft"), "", WORKS).section == "203x133x25 of universal beams"


@pytest.mark.parametrize(
    ("size", "told"),
    [
        ('3" dia x 8\' 4"', ["8' 4\""]),
        ('5/8" plate 6\' 0" x 4\' 0"', ["6' 0\"", "4' 0\""]),
        ('3/4" dia x 3" B.S.W.', []),
        ('1" thick x 9" dia disc', []),
    ],
)
def test_pieces_of_like_stock_are_told_apart_by_what_is_left(size: str, told: list[str]):
    assert [one.written for one in rough_size(stock(size))] == told


@pytest.mark.parametrize(
    ("words", "fits"),
    [
        ("round 3", ['round 3"']),
        ("ROUND 3 in", ['round 3"']),
        ("round 3 1/2", ['round 3 1/2"']),
        ("round 3½", ['round 3 1/2"']),
        ("3.1/2 round", ['round 3 1/2"']),
        ("1/2", []),
        ("angle 3", ['angle 4" x 3" x 3/8"']),
        ("angle 4x3", ['angle 4" x 3" x 3/8"']),
        ("swg", ['tube 2" bore x 10 S.W.G. wall']),
        ("S.W.G.", ['tube 2" bore x 10 S.W.G. wall']),
        ("steel ro", ['round 3"', 'round 3 1/2"']),
        ("teel", []),
        ('"', []),
    ],
)
def test_stock_is_asked_for_by_words_of_its_name_measures_whole(words: str, fits: list[str]) -> None:
    every = ['round 3"', 'round 3 1/2"', 'angle 4" x 3" x 3/8"', 'tube 2" bore x 10 S.W.G. wall']
    assert [one for one in every if is_named(f"mild steel, {one}", words)] == fits
