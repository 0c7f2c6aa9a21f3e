"""Cut-away valves: shapes, names and call-outs, and one module for each valve or part of one.

Charts and anything with axes belong elsewhere.
"""
