"""The terminal screens: drawn like a drawing sheet, painted from a `Reader`, never touching services or the book."""
