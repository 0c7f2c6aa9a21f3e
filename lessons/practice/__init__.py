"""Practice questions with their keys, one module per lesson."""
