"""Live pictures on flow: characteristics, capacity, pressure.

Each module draws one picture and moves it; numbers come from valvecalc, looks from `lessons/pictures/style`.
"""
