"""Questions, replies and the header line as small pieces of HTML; everything in them is escaped."""

from __future__ import annotations

from html import escape

from lessons.questions.judge import HINT, OTHER, RECORDED, RIGHT, UNREADABLE, Reply
from lessons.questions.question import QuestionSheet
from lessons.units.readout import counted

# Colours that differ in lightness too, and a word or sign with each: nothing is said by colour alone.
_EDGE = {RIGHT: "#0072b2", RECORDED: "#56b4e9", UNREADABLE: "#999999", HINT: "#e69f00"}
_SIGN = {RIGHT: "✓", RECORDED: "✎", UNREADABLE: "?", HINT: "→"}
_BOX = (
    "border:1px solid var(--jp-border-color1,#ccc);border-left:6px solid {edge};border-radius:3px;padding:.5em .8em;"
    "margin:.3em 0;max-width:52em;line-height:1.45;font-size:var(--jp-content-font-size1,14px)"
)
_HOW = {
    "number": "Type the number and its unit below, under the line that begins with %%answer",
    "choice": "Type one letter below, under the line that begins with %%answer",
    "several": "Type all letters that fit below, such as a c, under the line that begins with %%answer",
    "order": "Type the letters in order below, such as c a d b, under the line that begins with %%answer",
    "match": "Type pairs below, such as 1c 2a, under the line that begins with %%answer",
    "written": "Type your sentences below, under the line that begins with %%answer",
    "predict": "Type one letter below, under the line that begins with %%answer. A prediction cannot be wrong",
}


_DIGITS = ("", "one digit", "two digits", "three digits", "four digits")

# In JupyterLab: once a lesson's own code has run, its folded bar is noise; the boxes to type in should catch the eye,
# and take sentences: wrapped, and without the colours of code, in which "and" and half of "it's" would stand out.
_TYPED = ".jp-Notebook .jp-CodeCell .jp-InputArea-editor:not(:has(.jp-mod-readOnly))"
_PAGE = (
    "<style>.jp-Notebook .jp-CodeCell:not(.jp-mod-noOutputs)>.jp-Cell-inputWrapper>.jp-InputPlaceholder{display:none}"
    f"{_TYPED}{{border:1.5px solid #0072b2;border-radius:3px}}"
    f"{_TYPED} .cm-content{{white-space:break-spaces;overflow-wrap:anywhere;flex-shrink:1}}"
    f"{_TYPED} .cm-line span{{color:inherit!important;font-weight:inherit!important}}</style>"
)


def question_html(sheet: QuestionSheet, heading: str, badge: str = "") -> str:
    """Return a question as the apprentice sees it."""
    parts = [f"<div style='{_BOX.format(edge='#e69f00')}'>", _heading(heading, badge), _paragraphs(sheet.text)]
    parts.append(f"<div style='max-width:700px'>{sheet.svg}</div>" if sheet.svg else "")
    parts += [_list("", sheet.places), _list("", sheet.options)]
    unit = f" {escape(asked_for(sheet))}"
    how = f"{escape(_HOW[sheet.kind])}, then press Shift+Enter.{unit}"
    how = f"<div class='ostrel-how' style='opacity:.75;font-size:90%'>{how}</div>"
    return "".join([*parts, how, "</div>"])


def question_text(sheet: QuestionSheet) -> str:
    """Return a question as plain text, for places that show no HTML."""
    lines = [sheet.text, *(f"  {mark}) {text}" for mark, text in (*sheet.places, *sheet.options) if text)]
    return "\n".join([*lines, asked_for(sheet)]).rstrip()


def asked_for(sheet: QuestionSheet) -> str:
    """Say in which unit and to how many digits a number is wanted; nothing for another kind of question.

    >>> asked_for(QuestionSheet("drop.flow", "number", "How much passes?", "m³/h", digits=3))
    'Answer in m³/h, to three digits.'
    """
    if sheet.kind != "number":
        return ""
    wanted = [f"in {sheet.unit}" if sheet.unit else "with a bare number"]
    wanted += [f"to {_DIGITS[sheet.digits]}"] if sheet.digits else []
    return f"Answer {', '.join(wanted)}."


def reply_html(reply: Reply) -> str:
    """Return a reply: what was read, what it means, what to do next."""
    edge, sign = _EDGE.get(reply.tag, "#d55e00"), _SIGN.get(reply.tag, "✗")
    means = f"<b>{escape(reply.means)}</b>" if reply.tag not in (OTHER, UNREADABLE) else escape(reply.means)
    lines = [f"<span style='opacity:.75'>{escape(reply.read)}</span>", means, escape(reply.next)]
    body = "".join(f"<div>{line}</div>" for line in lines if line and line != "<b></b>")
    return (
        f"<div style='{_BOX.format(edge=edge)};display:flex;gap:.7em' role='status'>"
        f"<span style='font-size:130%;color:{edge}' aria-hidden='true'>{sign}</span><div>{body}</div></div>"
    )


def heading(sheet: QuestionSheet, graded: bool, hand_in: str = "") -> str:
    """Return the line above a question: what it is for, and when it has to be handed in."""
    if graded:
        due = f" · hand in by {hand_in}" if hand_in else ""
        return f"Work order · {counted(sheet.points, 'point')}{due}"
    return "Predict before you move anything" if sheet.kind == "predict" else "Practice"


def note_html(text: str) -> str:
    """Return a plain sentence to the apprentice, such as why something cannot be shown."""
    return f"<div style='{_BOX.format(edge='#999999')}' role='status'>{escape(text)}</div>"


def header_html(badge: str, units: str, counts: str) -> str:
    """Return the header line of a lesson."""
    who = f"Badge <b>{escape(badge)}</b>" if badge != "alone" else "Working <b>alone</b> (sign on in lesson 00)"
    shown = {"si": "bar, m³/h, mm", "us": "psi, gpm, in"}[units]
    return f"{_PAGE}<div style='{_BOX.format(edge='#009e73')}'>{who} · units: {shown} · {escape(counts)}</div>"


def _heading(heading: str, badge: str) -> str:
    mark = f"<span style='float:right'>badge {escape(badge)}</span>" if badge else ""
    return f"<div style='font-size:85%;opacity:.75'>{mark}{escape(heading)}</div>"


def _paragraphs(text: str) -> str:
    return "".join(f"<p style='margin:.3em 0'>{escape(part)}</p>" for part in text.split("\n") if part.strip())


def _list(title: str, pairs: tuple[tuple[str, str], ...]) -> str:
    if not any(text for _, text in pairs):  # places that are only numbers stand in the picture
        return ""
    rows = "".join(f"<div><b>{escape(mark)})</b> {escape(text)}</div>" for mark, text in pairs)
    return f"<div style='margin:.4em 0 .4em 1em'>{title}{rows}</div>"
