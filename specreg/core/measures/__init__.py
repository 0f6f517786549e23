"""Quantities as people of a works write them, read exactly, and written back.

`written` reads one field (`read_length`, `read_mass`, ..., `read_measure`), `finding` finds every measure in running
text, `formatting` writes lengths and weights, `records` holds what comes back. Every value is a Fraction in the base
unit of its kind. Nothing is guessed: without a unit, the name of a gauge or thread, or a rule for the ton, the answer
is the question to ask.
"""
