"""Live pictures on flow: characteristics, capacity, pressure."""
