"""The pictures of the lessons, drawn with matplotlib: one function per picture."""
