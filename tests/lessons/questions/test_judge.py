"""Judging of each kind of answer, on questions made here so that every expected score can be seen at a glance."""

from __future__ import annotations

import pytest

from lessons.questions.judge import OTHER, RECORDED, RIGHT, UNREADABLE, acknowledge, judge, solution
from lessons.questions.question import (
    Mistake,
    Option,
    Posed,
    Question,
    pose,
    pose_variant,
    sheet_from_data,
    variant_index,
)
from lessons.units.quantities import Q

ABCD = tuple(Option(name, name.upper(), f"not {name}") for name in ("p", "q", "r", "s"))


def numeric(**more: object) -> Posed:
    question = Question(
        "t.n",
        "number",
        "What is {a} and {b}?",
        ({"a": Q(1, "bar"), "b": Q(3, "bar")},),
        key=lambda n: n.a + n.b,
        unit="bar",
        tolerance=0.02,
        mistakes=(Mistake("difference", lambda n: n.b - n.a, "You took {a} away.", credit=0.5),),
        idea="Add.",
        step="Add {a} and {b}.",
        example="Together {answer}.",
        why="A sum.",
        plausible=(0, 10),
        **more,
    )
    return pose_variant(question, 0)


def with_options(kind: str, key: object) -> Posed:
    places = (Option("one", "1st"), Option("two", "2nd"), Option("three", "3rd")) if kind == "match" else ()
    options = ABCD[:3] if kind == "match" else ABCD
    return pose_variant(
        Question(
            "t.o", kind, "?", ({},), key=lambda n: key, options=options, places=places, idea="i", step="s", example="e"
        ),
        0,
    )


def typed(posed: Posed, *names: str) -> str:
    letter = {name: letter for letter, name in posed.names.items()}
    return " ".join(letter[name] for name in names)


@pytest.mark.parametrize(
    ("text", "tag", "score"),
    [
        ("4 bar", RIGHT, 1.0),
        ("4.08", RIGHT, 1.0),  # on the limit of 2 %
        ("3.92", RIGHT, 1.0),
        ("4.09", OTHER, 0.0),
        ("58.0 psi", RIGHT, 1.0),  # 58.0 psi = 3.999 bar
        ("2", "difference", 0.5),
        ("-4", "sign", 0.0),
        ("400 kPa", RIGHT, 1.0),
        ("400", "power_of_ten", 0.0),
        ("0.4", "power_of_ten", 0.0),
        ("7", OTHER, 0.0),
        ("4,000", UNREADABLE, 0.0),
        ("4 mm", UNREADABLE, 0.0),
    ],
)
def test_number(text: str, tag: str, score: float) -> None:
    reply = judge(numeric(), text)
    assert (reply.tag, reply.score) == (tag, score)


def test_fraction_for_percent_is_named() -> None:
    question = Question("t.p", "number", "{a}?", ({"a": Q(40, "%")},), key=lambda n: n.a, unit="%")
    assert judge(pose_variant(question, 0), "0.4").tag == "fraction_for_percent"


def test_a_reply_says_what_was_read_what_it_means_and_what_to_do() -> None:
    reply = judge(numeric(), "2 bar")
    assert (reply.read, reply.means, reply.next) == ("Read as 2 bar.", "You took 1 bar away.", "Add.")


def test_help_climbs() -> None:
    said = [judge(numeric(), "9", tries).next for tries in range(4)]
    assert said == [
        "Add.",
        "Add 1 bar and 3 bar.",
        "Together 4 bar.",
        "The answer was 4 bar. Now try it with new numbers.",
    ]


def test_the_worked_example_does_not_give_the_next_numbers_away() -> None:
    variants = tuple({"a": Q(n, "bar")} for n in range(1, 13))
    question = Question("t.e", "number", "{a}?", variants, key=lambda n: n.a, unit="bar", example="{answer}", idea="i")
    for turn in range(12):
        example = judge(pose(question, "7", turn=turn), "99", 2).next
        assert example != pose(question, "7", turn=turn + 1).words["a"]


def test_several() -> None:
    posed = with_options("several", {"p", "q"})
    assert judge(posed, typed(posed, "q", "p")).tag == RIGHT
    assert (judge(posed, typed(posed, "p")).tag, judge(posed, typed(posed, "p")).score) == ("incomplete", 0.5)
    assert (judge(posed, typed(posed, "p", "q", "r")).tag, judge(posed, typed(posed, "p", "q", "r")).score) == (
        "r",
        0.5,
    )
    assert judge(posed, typed(posed, "p", "q", "r", "s")).score == 0  # ticking everything earns nothing


def test_order() -> None:
    posed = with_options("order", ("p", "q", "r", "s"))
    assert judge(posed, typed(posed, "p", "q", "r", "s")).tag == RIGHT
    # p q s r: of the three neighbours pq, qr, rs one is left, so half of one third.
    assert judge(posed, typed(posed, "p", "q", "s", "r")).score == pytest.approx(0.5 / 3)
    assert judge(posed, typed(posed, "s", "r", "q", "p")).score == 0
    assert judge(posed, "a b").tag == UNREADABLE


def test_match() -> None:
    key = {"one": "p", "two": "q", "three": "r"}
    posed = with_options("match", key)
    letter = {name: letter for letter, name in posed.names.items()}
    right = " ".join(number + letter[key[place]] for number, place in posed.places.items())
    assert judge(posed, right).tag == RIGHT
    numbers = list(posed.places)
    swapped = dict(zip(numbers, (letter[key[posed.places[n]]] for n in numbers), strict=True))
    swapped[numbers[0]], swapped[numbers[1]] = swapped[numbers[1]], swapped[numbers[0]]
    reply = judge(posed, " ".join(a + b for a, b in swapped.items()))
    assert (reply.tag, reply.score) == ("swapped", pytest.approx(1 / 3))


def test_prediction_is_recorded_and_never_wrong() -> None:
    posed = pose_variant(Question("t.p", "predict", "?", ({},), options=ABCD, why="Now look."), 0)
    assert {judge(posed, letter).tag for letter in "abcd"} == {RECORDED}
    assert judge(posed, "a").next == "Now look."


def test_written_answer_is_taken_down_for_a_person() -> None:
    posed = pose_variant(Question("t.w", "written", "Tell.", ({},), why="Cause, work, state."), 0)
    reply = judge(posed, "Packing too tight.\nNuts back, stroke test done.")
    assert (reply.tag, reply.read, reply.next) == (RECORDED, "Read: 8 words.", "Cause, work, state.")
    assert judge(posed, "  ").tag == UNREADABLE
    assert acknowledge(posed.sheet, "Packing too tight.").tag == RECORDED


@pytest.mark.parametrize("kind", ["several", "order", "choice"])
def test_solution_of_options_is_right_when_typed_back(kind: str) -> None:
    key = {"several": {"p", "s"}, "order": ("s", "q", "p", "r"), "choice": "q"}[kind]
    posed = with_options(kind, key)
    said = solution(posed).partition(" This is how.")[0].removeprefix("The answer was ").rstrip(".")
    assert judge(posed, said).tag == RIGHT


def test_without_a_key_an_answer_is_only_acknowledged() -> None:
    sheet = sheet_from_data(numeric().sheet.as_data())
    assert acknowledge(sheet, "4").tag == RECORDED
    assert acknowledge(sheet, "4").means == ""
    assert "outside 0 to 10 bar" in acknowledge(sheet, "400").means
    assert acknowledge(sheet, "four").tag == UNREADABLE
    assert "right" not in acknowledge(sheet, "4").text.lower()


def test_numbers_are_rounded_before_the_key_is_worked_out() -> None:
    # 1 bar and 3 bar are shown as 14.5 and 43.5 psi, so the answer is 58.0 psi, not 58.015.
    posed = pose_variant(numeric().question, 0, "us")
    assert (posed.words["a"], posed.words["b"]) == ("14.5 psi", "43.5 psi")
    assert solution(posed) == "The answer was 58 psi."


def test_variant_depends_on_badge_and_question_and_on_nothing_else() -> None:
    # By hand with another tool: printf 't.n|4711' | sha256sum gives ...; the last hex digits mod 12.
    import hashlib

    by_hand = int(hashlib.sha256(b"t.n|4711").hexdigest()[-8:], 16) % 4  # mod 4 needs the last bits only
    assert variant_index("t.n", "4711", 0, 4) == by_hand
    assert {variant_index("t.n", str(badge), 0, 4) for badge in range(40)} == {0, 1, 2, 3}
    assert [variant_index("t.n", "4711", turn, 4) for turn in range(4)] == [(by_hand + turn) % 4 for turn in range(4)]


def test_same_badge_same_sheet() -> None:
    question = numeric().question
    assert pose(question, "7") == pose(question, "7")


@pytest.mark.parametrize(
    ("kind", "key", "typed_names", "said"),
    [
        ("order", ("p", "q", "r", "s"), ("p", "r", "q", "s"), "1 step is in place"),
        ("order", ("p", "q", "r", "s"), ("p", "q", "s", "r"), "2 steps are in place"),
        ("several", {"p", "q", "r"}, ("p", "q"), "Still missing: 1 option."),
        ("several", {"p", "q", "r"}, ("p",), "Still missing: 2 options."),
    ],
)
def test_what_is_counted_fits_its_number(kind: str, key: object, typed_names: tuple[str, ...], said: str) -> None:
    posed = with_options(kind, key)
    assert said in judge(posed, typed(posed, *typed_names)).means


def test_one_word_is_no_words() -> None:
    assert judge(with_options("written", ""), "Stuck.").read == "Read: 1 word."
