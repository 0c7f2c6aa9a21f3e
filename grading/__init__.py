"""The instructor's side: keys of the graded work, marking and reports. Not part of the wheel."""
