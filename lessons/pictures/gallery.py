"""Write every picture to a folder, with a page to look them all through: python -m lessons.pictures.gallery OUT."""

from __future__ import annotations

import html
import pkgutil
import sys
from importlib import import_module
from pathlib import Path

import matplotlib as mpl
from matplotlib.figure import Figure

from lessons.pictures import live
from lessons.pictures.cutaways import paper
from lessons.pictures.cutaways.catalogue import PICTURES
from lessons.pictures.cutaways.picture import Cutaway

TRAVELS = (0.0, 0.5, 1.0)


def _save(figure: Figure, stem: Path) -> str:
    """Write one picture as SVG and as PNG of the size it has in a browser; return the SVG's name."""
    with mpl.rc_context({"svg.fonttype": "none", "svg.hashsalt": stem.name}):
        figure.savefig(stem.with_suffix(".svg"), metadata={"Date": None})
    figure.savefig(stem.with_suffix(".png"), dpi=96)
    return stem.with_suffix(".svg").name


def section(name: str, picture: Cutaway, folder: Path) -> str:
    """Return one picture's part of the page: closed, half and open, numbers only, and its part list."""
    images = [(_save(picture.draw(travel=t), folder / f"{name}-{100 * t:.0f}"), picture.alt) for t in TRAVELS]
    images.append((_save(picture.draw(names=False), folder / f"{name}-numbers"), f"{picture.title}, numbers only"))
    shown = "\n".join(f'<img src="{file}" alt="{html.escape(alt)}">' for file, alt in images)
    rows = "\n".join(f"<li><b>{name}</b>: {html.escape(does)}</li>" for _, name, does in picture.parts())
    return (
        f'<h2 id="{name}">{html.escape(picture.title)}</h2>\n<p>{html.escape(picture.alt)}</p>\n'
        f"{shown}\n<ol>\n{rows}\n</ol>\n"
    )


def live_section(name: str, folder: Path) -> str:
    """Return a live picture's part of the page, as it is at first; nothing for a module that only helps others."""
    module, name = import_module(name), name.rpartition(".")[2]
    show = getattr(module, name, None)
    if show is None:
        return ""
    file, alt = _save(show().figure(), folder / name), html.escape(name.replace("_", " "))
    return f'<h2 id="{name}">Live: {alt}</h2>\n<img src="{file}" alt="{alt}">\n'


def write(folder: Path) -> Path:
    """Write the page and all its pictures, cut-aways and live ones; return the page."""
    folder.mkdir(parents=True, exist_ok=True)
    file = _save(paper.how_to_read(), folder / "key")
    sections = f'<h2>Key</h2>\n<img src="{file}" alt="{html.escape(paper.KEY_ALT)}">\n'
    sections += "".join(section(name, picture, folder) for name, picture in PICTURES.items())
    modules = [found.name for found in pkgutil.walk_packages(live.__path__, f"{live.__name__}.") if not found.ispkg]
    sections += "".join(live_section(module, folder) for module in modules)
    links = " · ".join(f'<a href="#{n}">{html.escape(p.title)}</a>' for n, p in PICTURES.items())
    page = folder / "index.html"
    page.write_text(
        '<!doctype html>\n<html lang="en"><meta charset="utf-8"><title>Pictures</title>\n'
        "<style>body{font:16px sans-serif;max-width:1500px;margin:auto}img{margin:8px}</style>\n"
        f"<h1>Pictures, closed, half and open</h1>\n<p>{links}</p>\n{sections}</html>\n",
        encoding="utf-8",
    )
    return page


if __name__ == "__main__":
    print(write(Path(sys.argv[1] if len(sys.argv) > 1 else "pictures")))  # noqa: T201
