"""Questions of the lesson "gas", worked by hand or taken from published examples."""

from lessons.units.quantities import Q

ROWS = [
    # question, numbers, answer, working or source
    (
        "gas.y",
        {"gamma": 1.30, "p1": Q(680, "kPa"), "p2": Q(450, "kPa"), "xt": 0.60},
        Q(0.798, ""),
        "ISA-75.01.01-2012, example 3: 0.798 printed; 1 − 0.33824/(3·0.55714) = 0.79763",
    ),
    ("gas.mass", {"q": 1000, "mass": 28.97}, Q(1292.5, ""), "1000/22.414 · 28.97 = 1292.5 kg/h"),
    (
        "gas.flow",
        {"kv": Q(10, "Kv"), "rho": Q(4, "kg/m³"), "dp": Q(4, "bar"), "y": 0.8},
        Q(1011.9, "kg/h"),
        "10 · 0.8 · √(1000·4·4) = 8 · 126.49 = 1011.9",
    ),
    (
        "gas.speed",
        {"flow": Q(3600, "kg/h"), "p1": Q(8, "bar"), "p2": Q(2, "bar"), "rho": Q(8, "kg/m³"), "bore": Q(100, "mm")},
        Q(63.662, "m/s"),
        "1 kg/s of 8·2/8 = 2 kg/m³ is 0.5 m³/s; over 7854 mm² 63.66 m/s",
    ),
    ("gas.holes", {"count": 4, "big": Q(27, "mm"), "holes": 400}, Q(2.7, "mm"), "27 · √(4/400) = 27/10"),
    (
        "gas.step",
        {"p1": Q(10.07, "bar"), "p2": Q(4.07, "bar"), "pv": Q(0.07, "bar"), "n": 3},
        Q(0.33333, ""),
        "a step 2 bar; before the last 6.07; 2/(6.07 − 0.07) = 1/3",
    ),
    (
        "gas.w1",
        {
            "gamma": 1.30,
            "p1": Q(10, "bar"),
            "p2": Q(6, "bar"),
            "xt": 0.72,
            "rho": Q(5.14504, "kg/m³"),
            "flow": Q(1000, "kg/h"),
        },
        Q(8.7111, "Kv"),
        "x 0.4, chokes at 0.66857, Y 0.80057: 1000/(0.80057 · √(999.1·0.4·10·5.14504)) = 8.7111",
    ),
    (
        "gas.w1",
        {
            "gamma": 1.30,
            "p1": Q(10, "bar"),
            "p2": Q(3, "bar"),
            "xt": 0.72,
            "rho": Q(5.14504, "kg/m³"),
            "flow": Q(1000, "kg/h"),
        },
        Q(8.0913, "Kv"),
        "choked: x 0.66857, Y 2/3: 1000/(0.66667 · √(999.1·6.6857·5.14504)) = 8.0913",
    ),
    ("gas.w4", {"level": 100}, Q(2, "h"), "two halvings of 8 h: table of 29 CFR 1910.95, second-hand"),
]
