"""What a question is, how an answer is read and judged, what is remembered and what comes back.

Pure: no IPython, no widgets, no files but the record of progress; the same for lesson, marking and test.
"""
