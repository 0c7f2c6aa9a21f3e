"""Job cards on what moves the stem, and what the stem does."""
