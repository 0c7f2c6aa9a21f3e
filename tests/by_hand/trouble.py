"""Questions of the lesson "trouble", worked by hand."""

from lessons.units.quantities import Q

_B = {"low": Q(0.2, "bar"), "high": Q(1.0, "bar"), "area": 0.032}
ROWS = [
    # question, numbers, answer, working or source
    (
        "trouble.friction",
        {"size": 240.0},
        Q(240, "N"),
        "drawn 2·240/0.032 = 15 000 Pa = 0.15 bar wide; 0.15 bar · 320 cm² / 2 = 240 N",
    ),
    ("trouble.bench", {**_B, "size": 0.1e5, "rubbing": 200.0}, Q(0.3, "bar"), "0.2 + 0.1 bar"),
    ("trouble.zero", {**_B, "size": -0.08, "rubbing": 150.0}, Q(-8, "%"), "up 36.14 %, down 47.86 %: mean 42 %"),
    (
        "trouble.leak",
        {"low": Q(3, "psi"), "high": Q(15, "psi"), "found": Q(12, "psi")},
        Q(75, "%"),
        "(12 − 3)/12",
    ),
    ("trouble.w2", {"size": 300.0}, Q(300, "N"), "drawn 0.1875 bar wide on 320 cm²: 0.1875e5 · 0.032 / 2"),
    ("trouble.w3", {**_B, "size": 0.16e5, "rubbing": 150.0}, Q(0.16, "bar"), "0.36 − 0.20 bar"),
]
