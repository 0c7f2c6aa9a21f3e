"""Serves the job cards as pages to tablets beside the valve, all of them from one process and without a notebook.

What a card computes and says lives in `cards` and `card_page`; here is only the way to a browser.
"""
