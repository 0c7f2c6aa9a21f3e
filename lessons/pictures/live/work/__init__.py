"""Live pictures on the work: testing, repairing, finding a fault."""
