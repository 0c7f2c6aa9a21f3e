"""The form of lesson 00 that asks for badge number and units."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import ipywidgets as widgets

from lessons.questions import markup, progress


def sign_on_form(folder: Path, signed_on: Callable[[], None]) -> widgets.VBox:
    """Return the form; it writes to the progress of `folder` and then calls `signed_on`."""
    known = progress.load(folder)
    badge = widgets.Text(
        value="" if known.badge == progress.ALONE else known.badge,
        description="Badge",
        placeholder="your badge number",
        tooltip="Badge number",
        continuous_update=False,  # as a whole: half a number may be somebody else's
    )
    units = widgets.RadioButtons(
        options=[("metric: bar, m³/h, mm", "si"), ("US: psi, gpm, in", "us")],
        value=known.units,
        description="Units",
    )
    button = widgets.Button(description="Sign on", button_style="primary")
    reply = widgets.HTML()

    def take(_change: object) -> None:
        reply.value = markup.note_html(_sign_on(folder, badge.value.strip(), units.value))
        signed_on()

    def on_click(_button: widgets.Button) -> None:
        take(None)
        # Where the kernel is busy, a click may overtake what was typed before it. That then counts when it comes.
        badge.observe(take, "value")
        units.observe(take, "value")

    button.on_click(on_click)
    button.layout.margin = "4px 0 4px 98px"  # under the fields, whose names take 90 px and a gap
    return widgets.VBox([badge, units, button, reply])


def _sign_on(folder: Path, badge: str, units: str) -> str:
    """Write the badge and units down if the badge can be one; return what to tell the apprentice."""
    if not progress.is_badge(badge):
        return progress.why_no_badge(badge)
    progress.keep_sign_on(folder, badge, units)
    return f"Signed on with badge {badge}. Lessons that are open show your own numbers now."
