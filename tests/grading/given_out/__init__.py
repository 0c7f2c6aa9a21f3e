"""What was given out, by which every hand-in is judged."""
