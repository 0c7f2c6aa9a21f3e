"""Questions of the lesson "air", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("air.limit", {"supply": Q(3, "bar")}, Q(1.1070, "bar"), "0.52828 · 4.01325 − 1.01325"),
    (
        "air.stir",
        {"room": Q(2, "L"), "bore": Q(2, "mm"), "supply": Q(2, "bar"), "low": Q(0.26, "bar")},
        Q(0.2766, "s"),
        "0.26e5 · 2e-3/(198.6 · 3.1416e-6 · 3.01325e5) = 52/188.0",
    ),
    ("air.exhaust", {"time": Q(10, "s"), "old": Q(2, "mm"), "new": Q(4, "mm")}, Q(2.5, "s"), "half the bore: 10/4"),
    ("air.free", {"room": Q(5, "L"), "p": Q(2.0265, "bar")}, Q(10, "L"), "two atmospheres: 2 · 5"),
    (
        "air.w1",
        {"room": Q(4, "L"), "bore": Q(2, "mm"), "supply": Q(2, "bar"), "low": Q(0.26, "bar")},
        Q(0.5532, "s"),
        "twice the room of air.stir: 104/188.0",
    ),
    ("air.w2", {"time": Q(16, "s"), "wanted": Q(4, "s"), "old": Q(1.5, "mm")}, Q(3, "mm"), "1.5 · √4"),
    (
        "air.w5",
        {"room": Q(40, "L"), "swept": Q(10, "L"), "tank": Q(6, "bar"), "strokes": 2},
        Q(3.47523, "bar"),
        "7.01325 · 0.8² = 4.48848; less 1.01325",
    ),
]
