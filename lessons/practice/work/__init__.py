"""Practice questions on the work: testing, repairing, finding a fault."""
