"""Job cards on the valve itself: what it is made of and which one to pick.

Each module holds one `CARD`; what several cards share belongs in `lessons/card_page`.
"""
