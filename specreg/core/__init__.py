"""The trade itself: pure functions and frozen records on the standard library alone.

The core knows no store, no screen and no file format.
"""
