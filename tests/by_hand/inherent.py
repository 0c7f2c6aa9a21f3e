"""Questions of the lesson "inherent", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("inherent.linear", {"kv": Q(40, "Kv"), "travel": Q(30, "%")}, Q(12, "Kv"), "40 · 0.30"),
    ("inherent.step", {"r": 50}, Q(47.88, "%"), "50^0.1 = 1.47876"),
    (
        "inherent.coefficient",
        {"kv": Q(100, "Kv"), "r": 50, "travel": Q(40, "%")},
        Q(9.564, "Kv"),
        "50^(0.4 − 1) = 9.56352 %",
    ),
    ("inherent.travel", {"phi": Q(10, "%"), "r": 50}, Q(41.14, "%"), "1 − 2.302585/3.912023 = 0.41141"),
    ("inherent.rangeability", {"low": Q(2, "Kv"), "high": Q(100, "Kv")}, Q(50, ""), "100/2"),
    ("inherent.w1", {"g": Q(30, "%")}, Q(13.786, ""), "1.3^10 = 13.7858"),
    ("inherent.w2", {"kv": Q(100, "Kv"), "r": 50, "travel": Q(70, "%")}, Q(30.925, "Kv"), "50^(0.7 − 1) = 30.9249 %"),
    (
        "inherent.w4",
        {"need": Q(2.5, "Kv"), "kv": Q(25, "Kv"), "r": 50},
        Q(41.14, "%"),
        "1 + ln 0.1/ln 50, as inherent.travel",
    ),
]
