"""Practice questions on flow: characteristics, capacity, pressure."""
