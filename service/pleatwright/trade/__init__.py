"""The arithmetic of the workroom, on exact lengths: panel, pleats, marks, pins and repeat.

Every length in and out is an `int` of grid units or an exact `Fraction` of them; see `pleatwright.lengths`.
"""
