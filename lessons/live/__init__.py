"""Pictures that move: matplotlib draws once, sliders move the named parts on the page.

The engine and its page side only; what is drawn lives in `pictures`, and nothing here knows a lesson or a card.
"""
