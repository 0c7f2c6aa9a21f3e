"""Live pictures on the valve itself: what it is made of and which one to pick.

Each module draws one picture and moves it; numbers come from valvecalc, looks from `lessons/pictures/style`.
"""
