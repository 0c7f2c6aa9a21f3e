"""Reading an answer, judging it, and what comes back when."""
