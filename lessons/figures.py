"""The pictures a lesson can show, by name."""

from __future__ import annotations

from collections.abc import Callable

from lessons.live import Live
from lessons.pictures.inherent_curves import inherent_curves
from lessons.pictures.installed_curves import installed_curves
from lessons.pictures.pumped_line import pumped_line

LIVE: dict[str, Callable[[str], Live]] = {
    "inherent": inherent_curves,
    "installed": installed_curves,
    "line": pumped_line,
}
