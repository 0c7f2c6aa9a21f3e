"""Job cards on the work: testing, repairing, finding a fault.

Each module holds one `CARD`; what several cards share belongs in `lessons/card_page`.
"""
