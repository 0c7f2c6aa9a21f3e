"""Pages with right answers: key sheets, and the own questions as they will be asked.

Nothing here is for an apprentice.
"""
