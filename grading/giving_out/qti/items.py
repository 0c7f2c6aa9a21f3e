"""Practice questions as items of QTI 2.1: what is right, and what to say to each foreseen mistake.

Built by the published information model (IMS Question and Test Interoperability 2.1, final of 31 August 2012), from
memory. All that is said to an answer is what the lesson itself would say.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from xml.etree import ElementTree as ET

from lessons.questions.foreseen import foreseen
from lessons.questions.judge import OTHER, RIGHT, UNREADABLE, judge
from lessons.questions.judge_number import fill
from lessons.questions.markup import asked_for
from lessons.questions.question import Posed
from lessons.units.quantities import from_base, plain_number, rounded_to

NAMESPACE = "http://www.imsglobal.org/xsd/imsqti_v2p1"
KINDS = ("number", "choice", "several", "order", "match")
_CARDINALITY = {"several": "multiple", "order": "ordered", "match": "multiple"}
_TYPES = {"number": "float", "match": "directedPair"}
_WRONG = "That is not it."
_OVER = 1e-9  # so that a number on the very limit counts, whatever its last binary digit says


@dataclass(frozen=True)
class Said:
    """One thing to say: to which answers, with which score."""

    test: ET.Element
    score: float
    words: str


def item(posed: Posed, name: str, title: str, picture: str = "") -> bytes:
    """Return an item: `name` is its identifier, `picture` the place of its drawing in the package."""
    question = posed.question
    root = ET.Element(
        "assessmentItem",
        {
            "xmlns": NAMESPACE,
            "identifier": name,
            "title": title,
            "adaptive": "false",
            "timeDependent": "false",
        },
    )
    cardinality, kind = _CARDINALITY.get(question.kind, "single"), _TYPES.get(question.kind, "identifier")
    declared = _under(root, "responseDeclaration", identifier="RESPONSE", cardinality=cardinality, baseType=kind)
    correct = _under(declared, "correctResponse")
    for value in _right(posed):
        _under(correct, "value", value)
    for outcome, base in (("SCORE", "float"), ("FEEDBACK", "identifier")):
        made = _under(root, "outcomeDeclaration", identifier=outcome, cardinality="single", baseType=base)
        if outcome == "SCORE":
            _under(_under(made, "defaultValue"), "value", "0")
    _body(root, posed, picture)
    said = [*_said(posed)]
    _processing(root, said)
    listed = [("OTHER", _WRONG), *((f"SAID_{n}", each.words) for n, each in enumerate(said))]
    for identifier, words in listed:
        given = {"outcomeIdentifier": "FEEDBACK", "identifier": identifier, "showHide": "show"}
        _under(_under(root, "modalFeedback", **given), "p", words)
    ET.indent(root)
    return bytes(ET.tostring(root, encoding="utf-8", xml_declaration=True))


def _under(parent: ET.Element, tag: str, words: str = "", **attributes: str) -> ET.Element:
    made = ET.SubElement(parent, tag, attributes)
    made.text = words or None
    return made


def _right(posed: Posed) -> list[str]:
    right, letter = posed.right, {name: letter for letter, name in posed.names.items()}
    if posed.question.kind == "number":
        return [repr(_shown(posed, float(right)))]
    if posed.question.kind == "match":
        places = {name: number for number, name in posed.places.items()}
        return [f"{letter[option]} P{places[place]}" for place, option in right.items()]
    return [letter[name] for name in ([right] if posed.question.kind == "choice" else right)]


def _shown(posed: Posed, value: float) -> float:
    """Return a number in the unit that is asked for."""
    return float(from_base(value, posed.sheet.unit).value) if posed.sheet.unit else value


def _body(root: ET.Element, posed: Posed, picture: str) -> None:
    body, sheet = _under(root, "itemBody"), posed.sheet
    for words in filter(None, [*sheet.text.split("\n"), asked_for(sheet)]):
        _under(body, "p", words)
    if picture:
        _under(_under(body, "p"), "img", src=picture, alt=posed.question.alt)
    _INTERACTIONS[sheet.kind](body, posed)


def _text_entry(body: ET.Element, _: Posed) -> None:
    _under(_under(body, "p"), "textEntryInteraction", responseIdentifier="RESPONSE", expectedLength="12")


def _choices(body: ET.Element, posed: Posed) -> None:
    most = "0" if posed.sheet.kind == "several" else "1"  # 0: as many as one likes
    given = {"responseIdentifier": "RESPONSE", "shuffle": "false", "maxChoices": most}
    _listed(_under(body, "choiceInteraction", **given), posed)


def _order(body: ET.Element, posed: Posed) -> None:
    _listed(_under(body, "orderInteraction", responseIdentifier="RESPONSE", shuffle="false"), posed)


def _listed(interaction: ET.Element, posed: Posed) -> None:
    for letter, words in posed.sheet.options:
        _under(interaction, "simpleChoice", words, identifier=letter)


def _match(body: ET.Element, posed: Posed) -> None:
    places = posed.sheet.places
    given = {"responseIdentifier": "RESPONSE", "shuffle": "false", "maxAssociations": str(len(places))}
    made = _under(body, "matchInteraction", **given)
    left, right = _under(made, "simpleMatchSet"), _under(made, "simpleMatchSet")
    for letter, words in posed.sheet.options:
        _under(left, "simpleAssociableChoice", words, identifier=letter, matchMax=str(len(places)))
    for number, words in places:
        _under(right, "simpleAssociableChoice", words or number, identifier=f"P{number}", matchMax="1")


_INTERACTIONS: Mapping[str, Callable[[ET.Element, Posed], None]] = {
    "number": _text_entry,
    "choice": _choices,
    "several": _choices,
    "order": _order,
    "match": _match,
}


def _said(posed: Posed) -> Iterator[Said]:
    """Give what is right first, then each foreseen mistake."""
    why = " ".join(filter(None, ["Right.", fill(posed.question.why, posed)]))
    if posed.question.kind == "number":
        right = float(posed.right)
        yield Said(_near(_shown(posed, right), _allowed(posed, right)), 1.0, why)
        yield from _wrong_numbers(posed)
        return
    yield Said(_same_as_key(), 1.0, why)
    yield from _WRONG_ONES.get(posed.question.kind, _nothing)(posed)


def _nothing(_: Posed) -> Iterator[Said]:
    yield from ()


def _letters(posed: Posed) -> dict[str, str]:
    return {name: letter for letter, name in posed.names.items()}


def _wrong_choices(posed: Posed) -> Iterator[Said]:
    for letter, _ in posed.sheet.options:
        reply = judge(posed, letter)
        if reply.tag != RIGHT:
            yield Said(_is(letter), reply.score, reply.means)


def _ticked_wrongly(posed: Posed) -> Iterator[Said]:
    for option in posed.question.options:
        if option.name not in posed.right and option.says:
            yield Said(_has(_letters(posed)[option.name]), 0.0, fill(option.says, posed))


def _wrong_orders(posed: Posed) -> Iterator[Said]:
    for mistake in posed.question.mistakes:
        order = [_letters(posed)[name] for name in mistake.wrong(posed.numbers)]
        reply = judge(posed, " ".join(order))
        if reply.tag != RIGHT:
            yield Said(_is(*order), reply.score, reply.means)


_WRONG_ONES: Mapping[str, Callable[[Posed], Iterator[Said]]] = {
    "choice": _wrong_choices,
    "several": _ticked_wrongly,
    "order": _wrong_orders,
}


def _wrong_numbers(posed: Posed) -> Iterator[Said]:
    """Give each wrong number once, with what the lesson says to it; where several causes fit, it names them."""
    known = set[float]()
    for mistake in foreseen(posed.question):
        number = mistake.wrong(posed.numbers)
        if number is None or not math.isfinite(float(number)) or mistake.rare:
            continue
        shown = rounded_to(_shown(posed, float(number)), 3)
        reply = judge(posed, f"{plain_number(shown)} {posed.sheet.unit}".strip())
        if shown not in known and shown and reply.tag not in (RIGHT, OTHER, UNREADABLE):
            known.add(shown)
            yield Said(_near(shown, 0.5 * _step(shown)), reply.score, reply.means)


def _step(value: float, digits: int = 3) -> float:
    return float(10.0 ** (math.floor(math.log10(abs(value))) - digits + 1)) if value else 0.0


def _allowed(posed: Posed, right: float) -> float:
    """Return how far a right number may be off, in its unit: its tolerance, or what rounding takes."""
    question = posed.question
    low, high = (_shown(posed, right * (1 + sign * question.tolerance)) for sign in (-1, 1))
    return max(abs(high - low) / 2, 0.5 * _step(_shown(posed, right), question.digits))


def _near(value: float, allowed: float) -> ET.Element:
    """Test for a number that lies near another: absolute, as in QTI a relative tolerance is taken in several ways."""
    tolerance = repr(allowed * (1 + _OVER))
    test = ET.Element("equal", {"toleranceMode": "absolute", "tolerance": f"{tolerance} {tolerance}"})
    ET.SubElement(test, "variable", {"identifier": "RESPONSE"})
    _under(test, "baseValue", repr(value), baseType="float")
    return test


def _same_as_key() -> ET.Element:
    test = ET.Element("match")
    for tag in ("variable", "correct"):
        ET.SubElement(test, tag, {"identifier": "RESPONSE"})
    return test


def _is(*letters: str) -> ET.Element:
    test = ET.Element("match")
    ET.SubElement(test, "variable", {"identifier": "RESPONSE"})
    home = test if len(letters) == 1 else ET.SubElement(test, "ordered")
    for each in letters:
        _under(home, "baseValue", each, baseType="identifier")
    return test


def _has(letter: str) -> ET.Element:
    test = ET.Element("member")
    _under(test, "baseValue", letter, baseType="identifier")
    ET.SubElement(test, "variable", {"identifier": "RESPONSE"})
    return test


def _processing(root: ET.Element, said: Sequence[Said]) -> None:
    condition = _under(_under(root, "responseProcessing"), "responseCondition")
    for n, each in enumerate(said):
        branch = _under(condition, "responseElseIf" if n else "responseIf")
        branch.append(each.test)
        _set(branch, "SCORE", "float", f"{each.score:g}")
        _set(branch, "FEEDBACK", "identifier", f"SAID_{n}")
    _set(_under(condition, "responseElse"), "FEEDBACK", "identifier", "OTHER")


def _set(branch: ET.Element, outcome: str, kind: str, value: str) -> None:
    _under(_under(branch, "setOutcomeValue", identifier=outcome), "baseValue", value, baseType=kind)
