"""What the calculations give, held against published values, worked rows and invariants."""
