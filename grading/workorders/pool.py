"""An instructor's own graded questions: files in the course's folder `questions`, read, checked, and no Python in them.

Nobody finds them in this repository, so they are the ones for a test that counts.
"""

from __future__ import annotations

import hashlib
import itertools
import math
import re
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from grading import workorders
from grading.course.course import Course, CourseError
from lessons.questions.grid import ENOUGH, is_sound
from lessons.questions.question import Mistake, Numbers, Question, pose_variant
from lessons.questions.workings.formula import worked_out
from lessons.questions.workings.working import base_of, lines_of
from lessons.units.quantities import Q, from_base, rounded_to, to_base
from lessons.units.readout import counted

FOLDER = "questions"
SAMPLE = """\
# One question in one file; its name is the question's name: orifice.w1.toml
lesson = "04"
text = "A valve with {kv} has {p1} before it and {p2} after it. How much water flows?"
unit = "m³/h"
working = ["drop [bar] = p1 - p2", "kv * sqrt(drop)"]    # the last line gives the answer
tolerance = 0.02
points = 2
idea = "Drop first, then coefficient times root."
step = "Take {p2} from {p1}, take the root, and multiply by the number in {kv}."
source = "liquid equation of IEC 60534-2-1, water, not choked"

[ranges]
kv = { from = 10, to = 60, step = 5, unit = "Kv" }
p1 = { from = 5.0, to = 9.0, step = 0.5, unit = "bar" }
p2 = { from = 1.0, to = 3.0, step = 0.5, unit = "bar" }

[[mistakes]]
formula = "kv * sqrt(p1)"
says = "The pressure before the valve was taken for the drop across it."
credit = 0.25
"""
_MOST = 20_000  # sets of numbers that are looked at
_NEEDED, _MAY = (
    {"lesson", "text", "unit", "working", "ranges", "source"},
    {"tolerance", "points", "idea", "step", "why", "mistakes"},
)
_KINDS: Mapping[str, type | tuple[type, ...]] = {
    **dict.fromkeys(("lesson", "text", "unit", "source", "idea", "step", "why"), str),
    **dict.fromkeys(("tolerance", "points"), (int, float)),
    "working": list,
    "mistakes": list,
    "ranges": dict,
}


def _so_many(count: int) -> str:
    return counted(count, "set of numbers", "sets of numbers")


def pool(course: Course) -> dict[str, tuple[str, Question]]:
    """Return the instructor's own questions by id, each with the number of its lesson.

    Raises
    ------
    CourseError
        With a sentence for each file that cannot be used.
    """
    found, wrong = {}, []
    for path in sorted((course.root / FOLDER).glob("*.toml")):
        try:
            found[path.stem] = read_question(path)
        except ValueError as problem:
            wrong.append(f"{path}: {problem}")
    if wrong:
        raise CourseError("\n".join(wrong))
    return found


def made_by(course: Course) -> str:
    """Return what all that decides about questions comes to: the code, and the instructor's own files.

    Where it is the same as when a lesson went out, no question can have changed since, and none has to be looked at.
    """
    digest = hashlib.sha256(workorders.code().encode())
    for path in sorted((course.root / FOLDER).glob("*.toml")):
        digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def own_of_lesson(course: Course, lesson: str) -> list[Question]:
    """Return the instructor's own questions for one lesson."""
    return [question for number, question in pool(course).values() if lesson.partition("_")[0] == number]


def read_question(path: Path) -> tuple[str, Question]:
    """Return the lesson's number and the question that a file holds.

    Raises
    ------
    ValueError
        With the sentence that says what is wrong with it.
    """
    if not re.fullmatch(r"[a-z]\w*\.w\d+", path.stem, re.ASCII):
        raise ValueError("its name must be a word, a dot, w and a number, such as orifice.w1.toml.")
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as problem:
        raise ValueError(f"it cannot be read ({problem}).") from None
    _check_names(data)
    variants = tuple(_sets(data["ranges"]))
    question = _question(path.stem, data, variants)
    return data["lesson"], _with_sound_variants(question)


def _check_names(data: Mapping[str, Any]) -> None:
    if missing := sorted(_NEEDED - data.keys()):
        raise ValueError(f"it has no {', '.join(missing)}.")
    if strange := sorted(data.keys() - _NEEDED - _MAY):
        raise ValueError(f"{', '.join(strange)} is not known here. Known are {', '.join(sorted(_NEEDED | _MAY))}.")
    for name, value in data.items():
        if not isinstance(value, _KINDS[name]):
            raise ValueError(f"{name} is not written as in the sample.")


def _sets(ranges: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """Give sets of numbers spread over the ranges, always the same ones."""
    steps = [_steps(name, about) for name, about in ranges.items()]
    count = math.prod(map(len, steps))
    if count > 100 * _MOST:
        raise ValueError(f"the ranges make {_so_many(count)}; use larger steps.")
    every = max(1, count // _MOST)
    sets = list(itertools.islice(itertools.product(*steps), 0, None, every))
    sets.sort(key=lambda each: hashlib.sha256(repr(each).encode()).hexdigest())
    yield from (dict(zip(ranges, each, strict=True)) for each in sets)


def _steps(name: str, about: Any) -> list[Q | float]:
    try:
        low, high, step, unit = (about[each] for each in ("from", "to", "step", "unit"))
        if not (step > 0 and low <= high and (high - low) / step < _MOST):
            raise TypeError
        values = [rounded_to(low + step * i, 6) for i in range(int((high - low) / step + 1e-9) + 1)]
        quantities: list[Q | float] = [Q(value, unit) if unit else value for value in values]
        if unit:
            to_base(Q(values[0], unit))
    except (TypeError, KeyError):
        sample = '{ from = 5, to = 9, step = 0.5, unit = "bar" }'
        raise ValueError(f"the range of {name} should be written like this: {sample}.") from None
    except Exception:
        raise ValueError(f"the unit “{about['unit']}” of {name} is not known.") from None
    return quantities


def _question(name: str, data: Mapping[str, Any], variants: tuple[Mapping[str, Any], ...]) -> Question:
    unit, working = data["unit"], tuple(map(str, data["working"]))
    mistakes = tuple(_mistake(each, unit, number) for number, each in enumerate(data.get("mistakes", []), start=1))
    said = {each: data[each] for each in ("idea", "step", "why") if each in data}
    return Question(
        id=name,
        kind="number",
        text=data["text"],
        variants=variants,
        key=_by_formula(working, unit),
        unit=unit,
        working=working,
        tolerance=float(data.get("tolerance", 0.02)),
        points=float(data.get("points", 1)),
        mistakes=mistakes,
        source=data["source"],
        **{"idea": "Look at the working once more.", **said},
    )


def _mistake(about: Any, unit: str, number: int) -> Mistake:
    if not isinstance(about, dict) or not {"formula", "says"} <= about.keys() <= {"formula", "says", "credit"}:
        raise ValueError(f"mistake {number} should have formula, says and perhaps credit.")
    wrong = _by_formula((str(about["formula"]),), unit)
    return Mistake(f"mistake_{number}", wrong, str(about["says"]), float(about.get("credit", 0)))


def _by_formula(working: tuple[str, ...], unit: str) -> Any:
    try:
        whole = lines_of(working, unit)[-1].whole
    except (ValueError, SyntaxError, IndexError) as problem:
        raise ValueError(f"the formula {' / '.join(working)} cannot be read ({problem}).") from None

    def key(numbers: Numbers) -> float:
        return base_of(worked_out(whole, numbers.in_formulas), unit, numbers.units)

    return key


def _with_sound_variants(question: Question) -> Question:
    """Keep sets of numbers with an answer that lies apart from the mistakes; say what is wrong where there are too few."""
    from dataclasses import replace

    try:
        pose_variant(replace(question, variants=question.variants[:1]), 0)
    except KeyError as problem:
        raise ValueError(f"{problem} stands in the text or a formula, and no range has this name.") from None
    except Exception as problem:
        raise ValueError(f"with the first numbers it cannot be worked out ({problem}).") from None
    alone = (replace(question, variants=(each,)) for each in question.variants)
    sound = tuple(
        each.variants[0]
        for each in itertools.islice((each for each in alone if is_sound(each, each.mistakes)), 2 * ENOUGH)
    )
    if len(sound) < ENOUGH:
        raise ValueError(
            f"only {_so_many(len(sound))} can be used, and {ENOUGH} are needed, so that neighbours have different "
            "ones. Widen the ranges, or see that no mistake gives nearly the right answer."
        )
    ready = replace(question, variants=sound)
    answers = [from_base(pose_variant(ready, i).right, question.unit).value for i in range(len(sound))]
    low, high = min(answers), max(answers)
    wide = (rounded_to(low / 10 if low > 0 else 10 * low, 1), rounded_to(10 * high if high > 0 else 1.0, 1))
    return replace(ready, plausible=wide)
