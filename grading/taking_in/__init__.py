"""Taking in what was handed in: files, zips and mails, sorted by badge.

Nothing here judges an answer.
"""
