"""Questions of the lesson "leakage", worked by hand from FCI 70-2 and GB/T 4213-92 (second-hand)."""

from lessons.units.quantities import Q

FLOW = Q(161.823, "m³/h")  # Cv 100 at 3.5 bar: 86.4978·√3.5

ROWS = [
    # question, numbers, answer, working or source
    ("leakage.capacity", {"kv": Q(100, "Cv"), "dp": Q(3.5, "bar")}, FLOW, "86.4978·√3.5"),
    ("leakage.capacity", {"kv": Q(100, "Cv"), "dp": Q(50, "psi")}, Q(707.107, "gpm"), "100·√50"),
    ("leakage.limit", {"flow": FLOW, "form": "II"}, Q(13485.2, "mL/min"), "161.823e6/60·5e-3"),
    ("leakage.limit", {"flow": FLOW, "form": "III"}, Q(2697.04, "mL/min"), "161.823e6/60·1e-3"),
    ("leakage.limit", {"flow": FLOW, "form": "IV"}, Q(269.704, "mL/min"), "161.823e6/60·1e-4"),
    ("leakage.five", {"p": Q(10, "bar"), "d": Q(25, "mm")}, Q(0.075, "mL/min"), "1.8e-7·1000·25 = 0.0045 L/h"),
    ("leakage.five", {"p": Q(20, "bar"), "d": Q(50, "mm")}, Q(0.3, "mL/min"), "1.8e-7·2000·50 = 0.018 L/h"),
    ("leakage.bubbles", {"n": 12, "t": 4}, Q(0.45, "mL/min"), "12·0.15/4; the row of the table for 50 mm"),
    ("leakage.double", {"p": Q(0.8, "%")}, Q(1.6, ""), "0.8/0.5"),
    (
        "leakage.w1",
        {"kv": Q(100, "Cv"), "dp": Q(50, "psi"), "form": "IV"},
        Q(267.669, "mL/min"),
        "100·√50 gpm · 3785.41 mL · 1e-4",
    ),
    ("leakage.w1", {"kv": Q(25, "Kv"), "dp": Q(3.24, "bar"), "form": "IV"}, Q(75, "mL/min"), "25·1.8·1e6/60·1e-4"),
    ("leakage.w4", {"n": 6, "t": 3, "lim": Q(0.3, "mL/min")}, Q(100, "%"), "2 bubbles a minute: 0.3/0.3"),
]
