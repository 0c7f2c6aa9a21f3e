"""Questions of the lesson "smart", worked by hand."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    ("smart.volts", {"supply": 24, "cable": 100, "barrier": 250}, Q(17, "V"), "24 − 0.020 · 350"),
    ("smart.curve", {"r": 50, "signal": Q(50, "%")}, Q(14.1421, "%"), "50^−0.5 = 1/7.0711"),
    ("smart.real", {"scale": Q(10, "%"), "reported": Q(50, "%")}, Q(55, "%"), "10 + 0.5 · 90"),
    ("smart.scale", {"low": Q(0.6, "bar"), "high": Q(1.4, "bar"), "found": Q(0.664, "bar")}, Q(8, "%"), "0.064/0.8"),
    (
        "smart.alarm",
        {"step": Q(10, "%"), "time": Q(20, "s"), "allowed": Q(5, "%"), "delay": Q(10, "s")},
        Q(20, "s"),
        "half of 20 s, and 10 s",
    ),
    ("smart.w1", {"supply": 24, "need": 12, "barrier": 300}, Q(300, "Ω"), "12/0.020 − 300"),
    ("smart.w2", {"closed": Q(10, "%"), "open": Q(80, "%"), "reported": Q(50, "%")}, Q(45, "%"), "10 + 0.5 · 70"),
    (
        "smart.w4",
        {"r": 50, "signal": Q(50, "%")},
        Q(3.478, "%"),
        "travel 0.141421; 50^−0.858579 = e^(−0.858579 · 3.912023)",
    ),
]
