"""Job cards on the work: testing, repairing, finding a fault."""
