"""A lesson as a page to keep, send or print: one file that needs no kernel and no network; and its PDF by a browser.

How a lesson runs and what its cells show is told elsewhere; here is only what the page around them looks like.
"""

from pathlib import Path

TEMPLATE = "ostrel-lesson"  # the folder of that name holds what the page is made of
TEMPLATES = Path(__file__).parent / "page_side"
