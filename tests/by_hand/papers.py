"""Questions of the lesson "papers", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("papers.stamp", {"cv": 100}, Q(86.5, ""), "100 × 0.865"),
    ("papers.w5", {"kv": 86.5}, Q(100, ""), "86.5 ÷ 0.865"),
]
