"""Questions of the lesson "installed", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("installed.ratio", {"valve": Q(0.5, "bar"), "pipe": Q(1.5, "bar")}, Q(25, "%"), "0.5/2.0"),
    ("installed.quarter", {"pipe": Q(2, "bar"), "q": Q(50, "%")}, Q(0.5, "bar"), "2 · 0.25"),
    ("installed.flow", {"a": Q(50, "%"), "phi": Q(20, "%")}, Q(27.735, "%"), "1/√(0.5 + 0.5/0.2²) = 1/√13"),
    ("installed.flow", {"a": Q(25, "%"), "phi": Q(10, "%")}, Q(19.7066, "%"), "1/√(0.75 + 0.25/0.1²) = 1/√25.75"),
    ("installed.drop", {"a": Q(20, "%"), "q": Q(50, "%"), "total": Q(4, "bar")}, Q(3.2, "bar"), "4·(1 − 0.8·0.25)"),
    (
        "installed.pump",
        {"pump": Q(7.5, "bar"), "static": Q(2.5, "bar"), "pipe": Q(3.5, "bar")},
        Q(1.5, "bar"),
        "7.5−2.5−3.5",
    ),
    ("installed.range", {"r": 50, "a": Q(10, "%")}, Q(15.8398, ""), "√(0.9 + 0.1 · 50²) = √250.9"),
    ("installed.w1", {"before": Q(5.2, "bar"), "after": Q(4, "bar"), "total": Q(5, "bar")}, Q(24, "%"), "1.2/5"),
    ("installed.w2", {"a": Q(25, "%"), "phi": Q(30, "%")}, Q(53.2414, "%"), "1/√(0.75 + 0.25/0.3²) = 1/√3.52778"),
    ("installed.w4", {"a": Q(20, "%"), "q": Q(50, "%"), "total": Q(4, "bar")}, Q(3.2, "bar"), "4·(1 − 0.8·0.25)"),
]
