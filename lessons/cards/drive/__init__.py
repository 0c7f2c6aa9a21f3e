"""Job cards on what moves the stem, and what the stem does.

Each module holds one `CARD`; what several cards share belongs in `lessons/card_page`.
"""
