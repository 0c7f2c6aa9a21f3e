"""Questions of the lesson "actuator", worked by hand."""

from lessons.units.quantities import Q

BENCH = {"low": Q(3, "psi"), "high": Q(15, "psi"), "area": Q(100, "in²")}

ROWS = [
    # question, numbers, answer, working or source
    ("actuator.force", {"p": Q(9, "psi"), "area": Q(100, "in²")}, Q(900, "lbf"), "100 · 9"),
    ("actuator.force", {"p": Q(0.5, "bar"), "area": Q(320, "cm²")}, Q(1600, "N"), "0.5e5 Pa · 0.032 m²"),
    ("actuator.spring", {**BENCH, "travel": Q(1.5, "in")}, Q(800, "lbf/in"), "12 · 100/1.5"),
    ("actuator.spring", {**BENCH, "travel": Q(1.5, "in")}, Q(140.101, "N/mm"), "800 · 4.44822 N / 25.4 mm"),
    ("actuator.position", {**BENCH, "p": Q(6, "psi")}, Q(25, "%"), "(6 − 3)/12"),
    (
        "actuator.shift",
        {"low": Q(0.2, "bar"), "area": Q(320, "cm²"), "load": Q(700, "N"), "friction": Q(250, "N")},
        Q(0.496875, "bar"),
        "0.2e5 + 950/0.032 = 0.2e5 + 29687.5 Pa",
    ),
    (
        "actuator.w2",
        {"k": Q(800, "lbf/in"), "travel": Q(1.5, "in"), "area": Q(100, "in²"), "low": Q(3, "psi")},
        Q(15, "psi"),
        "3 + 800·1.5/100",
    ),
    (
        "actuator.w4",
        {"high": Q(1.0, "bar"), "area": Q(320, "cm²"), "load": Q(250, "N"), "friction": Q(200, "N")},
        Q(1.140625, "bar"),
        "1.0e5 + 450/0.032 = 1.0e5 + 14062.5 Pa",
    ),
    ("actuator.w5", {**BENCH, "p": Q(12, "psi")}, Q(25, "%"), "12 psi is 9/12 = 75 %, from the other end 25 %"),
]
