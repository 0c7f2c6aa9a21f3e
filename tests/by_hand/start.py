"""Questions of the lesson "start", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("start.read", {"p": Q(4.8, "bar")}, Q(4.8, "bar"), "the gauge shows 4.8"),
]
