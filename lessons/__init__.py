"""Interactive lessons on control valves: the notebooks, and a room for each kind of code behind them.

Only what all rooms speak of lies here: the plant (`refinery`) and the words of safe work (`safety`).
"""
