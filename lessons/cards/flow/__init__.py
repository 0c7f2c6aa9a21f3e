"""Job cards on flow: characteristics, capacity, pressure."""
