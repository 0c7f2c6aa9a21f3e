"""Questions of the lesson "bodies", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    (
        "bodies.mix",
        {"hot": Q(90, "°C"), "cold": Q(20, "°C"), "t": Q(55, "°C")},
        Q(50, "%"),
        "half way: 35 of 70 degrees",
    ),
    (
        "bodies.mix",
        {"hot": Q(194, "°F"), "cold": Q(68, "°F"), "t": Q(104, "°F")},
        Q(28.5714, "%"),
        "36 of 126 degrees Fahrenheit",
    ),
    (
        "bodies.w4",
        {"a": Q(10, "m³/h"), "hot": Q(90, "°C"), "b": Q(30, "m³/h"), "cold": Q(30, "°C")},
        Q(45, "°C"),
        "10/40 of the way: 30 + 60/4",
    ),
    (
        "bodies.w4",
        {"a": Q(50, "gpm"), "hot": Q(200, "°F"), "b": Q(50, "gpm"), "cold": Q(100, "°F")},
        Q(150, "°F"),
        "equal flows: (200 + 100)/2",
    ),
]
