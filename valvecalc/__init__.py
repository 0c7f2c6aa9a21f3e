"""Control valve numbers: SI base units, fractions, absolute pressures, arrays of any shape."""
