"""Ways in which a handed-in notebook could do something where it is shown; each asks for an address with “canary” in it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

Notebook = dict[str, Any]


def js(name: str) -> str:
    """Return a script that leaves a trace: a request that a test sees."""
    return f"new Image().src='/canary/{name}?'+Math.random()"


def _cell(kind: str, source: str, **more: Any) -> dict[str, Any]:
    made = {"cell_type": kind, "id": "added", "metadata": {}, "source": source, **more}
    return made if kind != "code" else {"execution_count": None, "outputs": [], **made}


def _output(kind: str, data: Any) -> dict[str, Any]:
    shown = {"output_type": "display_data", "data": {kind: data, "text/plain": "x"}, "metadata": {}}
    return _cell("code", "1", outputs=[shown], metadata={"trusted": True})


_SVG = "<svg xmlns='http://www.w3.org/2000/svg' onload=\"{}\"><circle r='9'/></svg>"
_CLOSERS = "</pre></code></div></textarea></title></style></script>-->```\n~~~\n"

# name -> the cell that is added
ADDED: dict[str, dict[str, Any]] = {
    "script": _cell("markdown", f"<script>{js('script')}</script>"),
    "onerror": _cell("markdown", f'<img src=x onerror="{js("onerror")}">'),
    "svg": _cell("markdown", _SVG.format(js("svg"))),
    "iframe": _cell("markdown", f"<iframe srcdoc=\"<script>parent.{js('iframe')[4:]}</script><img src='/canary/iframe'>\"></iframe>"),
    "details": _cell("markdown", f'<details open ontoggle="{js("details")}">x</details>'),
    "form": _cell("markdown", f"<form action=\"javascript:{js('form')}\"><button>Full credit</button></form>"),
    "style": _cell("markdown", "<style>body{background:url(/canary/style)}</style>"),
    "link": _cell("markdown", f"[read me](javascript:{js('link')})"),
    "link with a title": _cell("markdown", f"[read me](/x '\" onmouseover=\"{js('title')}\" x=\"')"),
    "autolink": _cell("markdown", f"<javascript:{js('autolink')}>"),
    "image": _cell("markdown", "![far away](/canary/image.png)"),
    "meta": _cell("markdown", "<meta http-equiv=refresh content='0;url=/canary/meta'>"),
    "math": _cell("markdown", f"$\\href{{javascript:{js('math')}}}{{x}}$ $$\\require{{html}}\\style{{background:url(/canary/math)}}{{x}}$$"),
    "mathjax macros": _cell("markdown", f"\\begin{{equation}}<img src=x onerror=\"{js('equation')}\">\\end{{equation}}"),
    "mermaid": _cell("markdown", f"```mermaid\ngraph TD\nA[\"<img src=x onerror={js('mermaid')}>\"] --> B\nclick A href \"javascript:{js('mermaid')}\"\n```"),
    "code fence": _cell("markdown", f"```html\n```\n<script>{js('fence')}</script>"),
    "attachment": _cell("markdown", "![x](attachment:x.svg)", attachments={"x.svg": {"image/svg+xml": _SVG.format(js("attachment"))}}),
    "attachment name": _cell("markdown", "![x](attachment:x)", attachments={"x": {f"image/png' onerror=\"{js('type')}\" x='": "eA=="}}),
    "raw": _cell("raw", f"<script>{js('raw')}</script>"),
    "raw of a kind": _cell("raw", f"<script>{js('raw-html')}</script>", metadata={"raw_mimetype": "text/html", "format": "text/html"}),
    "unknown kind": _cell("heading", f"<script>{js('heading')}</script>"),
    "code": _cell("code", f"{_CLOSERS}<script>{js('code')}</script>"),
    "magic": _cell("code", f"%%html\n<script>{js('magic')}</script>"),
    "html output": _output("text/html", f"<script>{js('html')}</script><img src=x onerror=\"{js('html')}\">"),
    "javascript output": _output("application/javascript", js("javascript")),
    "svg output": _output("image/svg+xml", _SVG.format(js("svg-output"))),
    "markdown output": _output("text/markdown", f"<img src=x onerror=\"{js('markdown')}\">"),
    "latex output": _output("text/latex", f"<img src=x onerror=\"{js('latex')}\">"),
    "image output": _output("image/png", f"x\" onerror=\"{js('png')}"),
    "widget output": _output("application/vnd.jupyter.widget-view+json", {"model_id": "w1", "version_major": 2, "version_minor": 0}),
    "error output": _cell("code", "1", outputs=[{"output_type": "error", "ename": "<img src=x onerror=1>", "evalue": "",
                          "traceback": [f"\x1b]8;;javascript:{js('osc')}\x07x\x1b]8;;\x07<script>{js('error')}</script>"]}]),
    "stream output": _cell("code", "1", outputs=[{"output_type": "stream", "name": f"stdout\"><script>{js('stream')}</script>",
                           "text": f"<script>{js('stream')}</script>"}]),
    "prompt": {**_cell("code", "1"), "execution_count": f"<script>{js('prompt')}</script>"},
    "name of the cell": {**_cell("code", "1"), "id": f"x\"><script>{js('id')}</script>"},
    "grade id": _cell("code", "1", metadata={"nbgrader": {"grade_id": f"x\"><script>{js('grade')}</script>", "grade": True,
                      "solution": True, "locked": False, "points": 1, "schema_version": 3}}),
    "points": _cell("code", "1", metadata={"nbgrader": {"grade_id": "x", "grade": True, "solution": True, "locked": False,
                    "points": f"<script>{js('points')}</script>", "schema_version": 3}}),
    "tags": _cell("code", "1", metadata={"tags": [f"x\"><script>{js('tag')}</script>"], "jupyter": {"source_hidden": True}}),
    "an answer of its own": _cell("code", f"%%answer inherent.w1\n{_CLOSERS}<script>{js('answer')}</script>"),
    "an answer as markdown": _cell("markdown", f"%%answer inherent.w1\n\n<script>{js('answer-markdown')}</script>"),
}  # fmt: skip


def _widgets(notebook: Notebook) -> None:
    state = {
        "model_name": "HTMLModel",
        "model_module": "@jupyter-widgets/controls",
        "model_module_version": "2.0.0",
        "state": {"value": f'<img src=x onerror="{js("widget")}">'},
    }
    notebook["metadata"]["widgets"] = {
        "application/vnd.jupyter.widget-state+json": {"version_major": 2, "version_minor": 0, "state": {"w1": state}}
    }


def _metadata(notebook: Notebook) -> None:
    script = f"</title></script><script>{js('metadata')}</script>"
    notebook["metadata"] |= {
        "title": script,
        "trusted": True,
        "signature": "sha256:0",
        "authors": [{"name": script}],
        "kernelspec": {"name": script, "display_name": script, "language": script},
        "language_info": {"name": script, "pygments_lexer": script, "codemirror_mode": script, "mimetype": "text/html"},
        "mathjax_macros": {"x": f"\\href{{javascript:{js('macro')}}}{{x}}"},
        "work_order": {"lesson": script},
    }


def _every_answer(notebook: Notebook) -> None:
    for cell in notebook["cells"]:
        if "".join(cell["source"]).startswith("%%answer"):
            first = "".join(cell["source"]).split("\n")[0]
            cell["source"] = (
                f'{first}\n{_CLOSERS}<script>{js("in-answer")}</script><img src=x onerror="{js("in-answer")}">'
            )


def _answers_as_markdown(notebook: Notebook) -> None:
    for cell in notebook["cells"]:
        if "".join(cell["source"]).startswith("%%answer"):
            cell.pop("outputs", None)
            cell["cell_type"] = "markdown"
            cell["source"] = f"<script>{js('as-markdown')}</script>"


def _every_locked_cell(notebook: Notebook) -> None:
    for cell in notebook["cells"]:
        if not "".join(cell["source"]).startswith("%%answer"):
            cell |= {
                "cell_type": "markdown",
                "source": f"<script>{js('in-place')}</script>",
                "attachments": {"a.svg": {"image/svg+xml": _SVG.format(js("in-place"))}},
            }
            cell.pop("outputs", None)


def _every_output(notebook: Notebook) -> None:
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"] = _output("text/html", f"<script>{js('saved-output')}</script>")["outputs"]


def _all_added(notebook: Notebook) -> None:
    for number, cell in enumerate(ADDED.values()):
        notebook["cells"].insert(2 * number, {**cell, "id": cell["id"] if cell["id"] != "added" else f"added-{number}"})


# name -> what is done to a whole notebook; the answers themselves stay in the first two
CHANGES: dict[str, Callable[[Notebook], None]] = {
    "cells added": _all_added,
    "widgets and their state": lambda notebook: (_all_added(notebook), _widgets(notebook), _metadata(notebook))[0],
    "every answer": _every_answer,
    "answers as markdown": _answers_as_markdown,
    "every locked cell": _every_locked_cell,
    "every output": _every_output,
}
