"""The letters of PDF pages are cut out of their font once for all pages: on each of its own it takes longer than the rest."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import nullcontext
from typing import Any

import pytest
from matplotlib.backends import _backend_pdf_ps


@pytest.fixture(autouse=True, scope="session")
def _letters_cut_out_once() -> Iterator[None]:
    """A page may bring letters that no other page needs; what the library does for it is the same."""
    cut_out, cut = _backend_pdf_ps.get_glyphs_subset, {}

    def once(font: Any, glyphs: Any) -> nullcontext[Any]:
        had = cut.get(str(font))
        if had is None or not set(glyphs) <= set(had.glyph_index_map):
            more = set(glyphs) | set(had.glyph_index_map if had else ())
            had = cut[str(font)] = cut_out(font, more).__enter__()
        return nullcontext(had)

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(_backend_pdf_ps, "get_glyphs_subset", once)
        yield
