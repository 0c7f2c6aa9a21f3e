"""Job cards on flow: characteristics, capacity, pressure.

Each module holds one `CARD`; what several cards share belongs in `lessons/card_page`.
"""
