"""What people read after marking: feedback pages, the class report, tables of marks.

Nothing here changes a mark.
"""
