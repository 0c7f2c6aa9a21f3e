"""Lessons on control valves at the invented Ostrel Point refinery, and the code behind them."""
