"""Live pictures on the work: testing, repairing, finding a fault.

Each module draws one picture and moves it; numbers come from valvecalc, looks from `lessons/pictures/style`.
"""
