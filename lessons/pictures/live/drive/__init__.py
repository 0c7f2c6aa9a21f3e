"""Live pictures on what moves the stem, and what the stem does.

Each module draws one picture and moves it; numbers come from valvecalc, looks from `lessons/pictures/style`.
"""
