"""A live picture as it is seen on a page, and where matplotlib itself would put its curve."""

from __future__ import annotations

import re

import numpy as np
from playwright.sync_api import Locator

from tests.browser.live_figures import curve_picture


def part(picture: Locator, name: str) -> Locator:
    return picture.locator(f"[data-part='{name}']")


def seen_curve(picture: Locator) -> np.ndarray:
    d = part(picture, "curve").locator("path").first.get_attribute("d") or ""
    return np.array(re.findall(r"-?[\d.]+", d), dtype=float).reshape(-1, 2)


def expected_curve(travel: float, rangeability: float) -> np.ndarray:
    """Where matplotlib itself puts the curve: its transform, in points, y down."""
    figure = curve_picture()._moving.figure(travel=travel, rangeability=rangeability)
    line = next(line for line in figure.axes[0].lines if line.get_gid() == "curve")
    on_page = line.get_transform().transform(line.get_xydata()) * 72 / figure.dpi
    return np.column_stack([on_page[:, 0], figure.get_figheight() * 72 - on_page[:, 1]])


def slider(picture: Locator, name: str) -> Locator:
    return picture.get_by_role("slider", name=name, exact=True)
