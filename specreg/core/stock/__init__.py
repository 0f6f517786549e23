"""What one piece of an item is cut from and what it weighs, out of its Size, Material and Weight fields.

`reading` reads a size, `masses` gives the mass of one piece, `house_rules` the cutting, machining, contraction and
shrinkage of the works; `records` holds what comes back. All values are Fractions in mm, mm2, mm3 and kg, and say what
they rest on. Nothing is guessed: what cannot be read comes back with the reason.
"""
