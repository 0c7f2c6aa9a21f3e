"""Pages with right answers, for the instructor alone: key sheets, and the own questions as they will be asked."""
