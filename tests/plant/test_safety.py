"""What is said where work can hurt: one order of isolation and one wording of each caution, wherever it stands."""

from __future__ import annotations

import ast
import functools
import json
import re
from collections.abc import Iterator
from itertools import permutations, product
from pathlib import Path

import pytest

from lessons import safety
from lessons.card_page.card import BadInputError, Card, defaults
from lessons.cards import NAMES, card_named
from lessons.notebook import bank, figures
from lessons.notebook.on_screen import OnScreen
from lessons.questions.foreseen import foreseen
from lessons.questions.judge import solution
from lessons.questions.question import Question, pose_variant
from tests.plant.step_order import ORDER, problems, sentence_problems
from tests.tidy import notebooks

ROOT = Path(__file__).parents[2]
QUESTIONS = {**bank.practice_questions(), **bank.graded_questions()}
ORDERS = [question for question in QUESTIONS.values() if question.kind == "order"]
# Order questions about work on a valve that has to be isolated; the others order a loop, a jet, a stroke in service.
ISOLATED = ("balance.order", "repair.isolate", "friction.order")
SHOWS_THE_ORDER = ("07", "08", "09", "11", "12", "13", "15", "16", "17")

# What stood here before, and what it has to be refused for.
OLD = [
    ("balance.order", "lock comes after release", (
        "Tell the board; permit in hand; put the loop in manual",
        "Block in, vent and drain the line; prove no pressure at the bleed",
        "Shut off, lock and tag air supply and electric signal",
        "Vent actuator and volume tank; prove that no air is left",
        "Let the spring down as the maker's instruction says",
        "Undo the casing bolts")),
    ("balance.order", "not everything is locked", (
        "Tell the board; permit in hand; put the loop in manual",
        "Block in the line", "Lock and tag air supply and electric signal",
        "Drain and vent", "Prove no pressure")),
    ("tear_down", "lock comes after release", (
        "Tell operations; loop in manual, bypass set, interlocks known; permit and isolation certificate in hand.",
        "Isolate by the site's procedure: block both sides, vent and drain between, prove zero at the bleed.",
        "Lock and tag process valves, air supply and electric signal: own lock, own key.",
        "Shut and vent the air: actuator, positioner, volume tank, booster, lock-up relay.",
        "Uncouple the stem")),
    ("tear_down", "isolate comes after lock", (
        "Permit in hand", "Block both sides", "Lock and tag process valves, air supply and signal",
        "Shut and vent the air", "Prove it")),
    ("lesson 08", "lock is missing", ("Block, vent, drain and prove.",)),
    ("leakage.order", "lock comes after release", (
        "Permit in hand; both sides isolated, vented, proved free of pressure, locked",)),
    ("actuator.order", "lock is missing", (
        "Permit in hand, line isolated, drained and proved; actuator free of the plug, as its maker says",)),
    ("lesson 03", "lock is missing", (
        "Trim comes out when the line is isolated, drained, vented and proved dead",)),
    ("packing", "isolate comes after release", ("Depressurise, isolate and drain first.",)),
    ("made up", "work begins before the isolation is done", (
        "Permit in hand", "Isolate every energy", "Lock it", "Undo the casing bolts", "Vent it", "Prove it")),
    ("made up", "shut_down comes before prepare", (
        "Shut down", "Get the permit", "Isolate", "Lock all of it", "Drain", "Prove")),
    ("made up", "release comes after prove", (
        "Permit in hand", "Isolate", "Lock all of it", "Drain", "Prove", "Vent the actuator", "Lift off the bonnet")),
    ("made up", "lock comes after release", (
        "Close the inlet and outlet valves", "Open the drain", "Put your lock on", "Check for zero pressure")),
    ("made up", "work begins before the isolation is done", (
        "Take the permit", "Shut the isolation valves", "Lock out", "Loosen the bonnet nuts", "Bleed it down", "Confirm zero")),
    ("made up", "prove is missing", ("Permit in hand", "Isolate", "Padlock all of it", "Drain", "Open the bonnet")),
]  # fmt: skip


# ---- reading the whole tree ---------------------------------------------------------------------------------------


def sentences(text: str) -> list[str]:
    return [each for each in re.split(r"(?<=[.!?])\s+|\n+", text) if re.search("[.,:;]", each)]


def lists(markdown: str) -> Iterator[list[str]]:
    """Numbered lists in which two items tell of isolation, and bulleted ones in which two begin with it."""
    for numbered, pattern in ((True, r"\d+\. "), (False, r"[-*•] ")):
        for block in re.findall(rf"(?:^(?:> ?)?{pattern}.*\n?)+", markdown, re.MULTILINE):
            items = [re.sub(rf"^(?:> ?)?{pattern}", "", line) for line in block.splitlines()]
            heads = items if numbered else [" ".join(item.split()[:2]) for item in items]
            if sum(bool(re.search(r"isolat|\block|\btag|drain|\bvent|prove|block", head, re.I)) for head in heads) > 1:
                yield items


def cells() -> list[tuple[str, str]]:
    """Every cell of text of every notebook, with where it stands."""
    return [
        (f"{path.stem} {cell['id']}", "".join(cell["source"]))
        for path in notebooks()
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]
        if cell["cell_type"] == "markdown"
    ]


def strings(tree: ast.AST) -> Iterator[str]:
    """Every string of a module, f-strings whole, with a gap where something is put in."""
    inside: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            inside |= {id(part) for part in node.values}
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inside:
            yield node.value


def modules() -> list[Path]:
    return [path for folder in ("lessons", "grading", "valvecalc") for path in sorted((ROOT / folder).rglob("*.py"))]


def posed_words(question: Question) -> list[str]:
    """What one variant of a question says, and its replies, filled in."""
    said = [question.idea, question.step, question.example, question.why, *(m.says for m in foreseen(question))]
    posed = pose_variant(question, 0, "si")
    return [posed.sheet.text, *(text for _, text in posed.sheet.options), *said, *(o.says for o in question.options)]


def card_words(each: Card) -> list[str]:
    """What a card says with the numbers it starts with."""
    inputs = defaults(each)
    answer = each.answer(inputs, each.compute(inputs), "si")
    return [*each.cautions, *each.changes, each.source, *answer.steps, *(words for row in answer.rows for words in row)]


@functools.cache
def everything() -> list[tuple[str, str]]:
    """Every lesson cell, question and card as one piece of text."""
    asked = [(question.id, "\n".join(posed_words(question))) for question in QUESTIONS.values()]
    return [*cells(), *asked, *((name, "\n".join(card_words(card_named(name)))) for name in NAMES)]


# ---- one order of isolation ---------------------------------------------------------------------------------------


def test_the_order_is_that_of_the_rule() -> None:
    """29 CFR 1910.147(d): (1) preparation, (2) shutdown, (3) isolation, (4) lock or tag, (5) stored energy, (6) verify."""
    paragraphs = [(step.rule, step.name) for step in safety.ISOLATION]
    assert paragraphs == [(f"(d)({k})", name) for k, name in enumerate(ORDER, start=1)]
    assert ORDER == safety.ORDER
    assert "1910.147(d)" in safety.SOURCE


def test_no_other_order_of_its_steps_passes() -> None:
    passed = [order for order in permutations(safety.ISOLATION) if not problems([step.text for step in order])]
    assert passed == [safety.ISOLATION]


def test_none_of_its_steps_can_be_left_out() -> None:
    texts = [step.text for step in safety.ISOLATION]
    for number, name in enumerate(safety.ORDER):
        left = [*texts[:number], *texts[number + 1 :]]
        assert bool(problems(left)) == (name in ORDER[2:]), name


def test_it_isolates_and_locks_every_energy() -> None:
    by_name = {step.name: step.text for step in safety.ISOLATION}
    for energy in ("both sides", "bypass", "air supply", "signal"):
        assert energy in by_name["isolate"]
    assert "all of it" in by_name["lock"]
    assert "every one" in by_name["lock"]
    for stored in ("both sides of the plug", "actuator", "tank", "booster", "lock-up relay", "spring"):
        assert stored in by_name["release"]


@pytest.mark.parametrize(("where", "wrong", "steps"), OLD, ids=[f"{where}: {wrong}" for where, wrong, _ in OLD])
def test_what_stood_here_before_is_refused(where: str, wrong: str, steps: tuple[str, ...]) -> None:
    said = problems(steps) if len(steps) > 1 else sentence_problems(steps[0])
    assert wrong in said, where


@pytest.mark.parametrize("question", ORDERS, ids=[question.id for question in ORDERS])
def test_every_order_question_is_keyed_in_order(question: Question) -> None:
    """For every variant; the key as it is told when the answer is shown."""
    for number in range(len(question.variants)):
        posed = pose_variant(question, number, "si")
        texts = dict(posed.sheet.options)
        keyed = [texts[letter] for letter in re.findall(r"\b[a-z]\b", solution(posed).partition("was")[2])]
        assert len(keyed) == len(texts)
        assert problems(keyed) == []


@pytest.mark.parametrize("name", ISOLATED)
def test_safe_work_is_keyed_by_the_one_order(name: str) -> None:
    posed = pose_variant(QUESTIONS[name], 0, "si")
    asked = {text for _, text in posed.sheet.options}
    assert {step.text for step in safety.ISOLATION} <= asked
    key = QUESTIONS[name].key
    assert key
    assert key(posed.numbers)[:6] == safety.ORDER


@pytest.mark.parametrize("name", ["actuator.order", "trouble.order"])
def test_where_isolation_is_one_step_it_is_told_whole(name: str) -> None:
    assert safety.IN_SHORT in " ".join(posed_words(QUESTIONS[name]))
    assert problems(safety.IN_SHORT.split(", ")) == []
    assert sentence_problems(f"The valve is {safety.DONE}.") == []


@pytest.mark.parametrize("name", NAMES)
def test_steps_of_every_card_are_in_order(name: str) -> None:
    each = card_named(name)
    picked = [[(field.name, choice) for choice in field.choices] for field in each.fields if field.choices]
    for choices in product(*picked):
        inputs = defaults(each)
        for field, choice in choices:
            setattr(inputs, field, choice)
        try:
            results = each.compute(inputs)
        except BadInputError:  # a choice that does not go with the other numbers has no steps
            continue
        assert problems(each.answer(inputs, results, "si").steps) == []


def test_the_tear_down_card_takes_its_isolation_from_the_one_order() -> None:
    steps = "\n".join(card_words(card_named("tear_down")))
    places = [steps.index(step.text) for step in safety.ISOLATION]
    assert places == sorted(places)
    assert steps.index(safety.UNCOUPLE[0]) > places[-1]


@pytest.mark.parametrize("path", notebooks(), ids=lambda path: path.stem)
def test_no_list_and_no_sentence_of_a_notebook_is_out_of_order(path: Path) -> None:
    for where, words in cells():
        if where.startswith(f"{path.stem} "):
            assert [(items, problems(items)) for items in lists(words) if problems(items)] == [], where
            assert [(each, sentence_problems(each)) for each in sentences(words) if sentence_problems(each)] == [], (
                where
            )


def test_no_sentence_of_the_code_is_out_of_order() -> None:
    """Questions with their replies, cards, pictures with their alternative texts, glossary."""
    said = [
        (str(path.relative_to(ROOT)), each)
        for path in modules()
        for words in strings(ast.parse(path.read_text(encoding="utf-8")))
        for each in sentences(words)
    ]
    assert len(said) > 10_000
    assert [(where, each, found) for where, each in said if (found := sentence_problems(each))] == []


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_no_page_about_the_project_is_out_of_order(name: str) -> None:
    words = (ROOT / name).read_text(encoding="utf-8")
    assert [items for items in lists(words) if problems(items)] == []
    assert [each for each in sentences(words) if sentence_problems(each)] == []


@pytest.mark.parametrize("number", SHOWS_THE_ORDER)
def test_the_lessons_show_the_one_order_on_top(number: str) -> None:
    path = next(path for path in notebooks() if path.name.startswith(number))
    code = ["".join(c["source"]) for c in json.loads(path.read_text("utf-8"))["cells"] if c["cell_type"] == "code"]
    assert code[0].endswith("\nisolation()")


def test_the_order_is_shown_with_source_and_who_decides() -> None:
    shown = safety.as_markdown()
    items = re.findall(r"^\d\. (.*)$", shown, re.MULTILINE)
    assert problems(items) == []
    assert len(items) == 6
    for said in (safety.SOURCE, safety.TEST_AIR, safety.RELEASES_NOTHING):
        assert said in shown


# ---- cautions: one sentence for each danger -----------------------------------------------------------------------

# Told as somebody's mistake, as a fact, or as the wrong option of a question: nothing anybody is told to do.
STORIES = (
    "had been turned in",
    "night shift pulled",
    "packing pulled tighter since",
    "Tighten the packing",
    "nuts pull the flange",
)
PACKING = (
    r"\b(?:(?:eas|loosen|slacken|tighten|pull|turn|reset|adjust|repack|replac)\w*|set)\b[^.;:]{0,45}\b(?:packing|gland)\b"
    r"|\b(?:packing|gland)\b(?: nuts?)?[^.;:]{0,30}\b(?:eased|back|adjusted|reset|pulled|turned|tightened)\b"
)
OUT_OF_SERVICE = r"isolate|the six steps|out of service|Every turn|bench set|in all places"


def told(pattern: str, words: str) -> list[str]:
    found = [each for each in sentences(words) if re.search(pattern, each, re.IGNORECASE)]
    return [each for each in found if not any(story in each for story in STORIES)]


def packing_in_service(words: str) -> list[str]:
    """Sentences that have packing worked on, in a text that nowhere takes the valve out of service."""
    return told(PACKING, words) if not re.search(OUT_OF_SERVICE, words, re.IGNORECASE) else []


@pytest.mark.parametrize(
    "words",
    [
        "5. FV-1204 did not need tuning. It needed its packing nuts back, as found written down, and a small step in manual.",
        "Ease the packing within its limits, else repack; stem looked at for scratches.",
        "Packing is adjusted only where the site allows it in service, with the loop out of automatic.",
        "Turn both packing nuts by the same small amount.",
    ],
)
def test_packing_in_service_is_found(words: str) -> None:
    assert packing_in_service(words), "as it stood before"


def test_packing_is_never_touched_in_service() -> None:
    assert [(where, found) for where, words in everything() if (found := packing_in_service(words))] == []
    allowed = r"allows (?:it|its packing).{0,40}in service"
    assert [where for where, words in everything() if re.search(allowed, words)] == []


ADJUSTED = r"\b(?:turn|undo|undone|unload|let down|let the spring)\b[^.;:]{0,40}\badjuster\b|\badjuster\b[^.;:]{0,20}\bset (?:back|to)\b"


@pytest.mark.parametrize(
    "words",
    [
        "An actuator with an adjuster is unloaded there first, as its maker says.",
        "Never undo casing bolts or a spring adjuster before the spring is let down as its maker's instruction says.",
        "Actuator only if it must be: unload the spring by its adjuster or the long bolts, evenly;",
    ],
)
def test_an_adjuster_without_vented_air_is_found(words: str) -> None:
    assert adjuster_under_air(words), "as it stood before"


def adjuster_under_air(words: str) -> list[str]:
    pattern = ADJUSTED + r"|unloaded there"
    return told(pattern, words) if not re.search(r"\bvent", words) or "maker" not in words else []


def test_an_adjuster_is_turned_without_air_and_as_the_maker_says() -> None:
    assert len(everything()) > 500
    assert [(where, found) for where, words in everything() if (found := adjuster_under_air(words))] == []
    assert [where for where, words in everything() if "under load" in words] == []


REMEDY = rf"{PACKING}|\brepack|{ADJUSTED}|\bset the spring adjuster|\btighten the stem connector"


def unsafe_remedy(option: str) -> bool:
    """A remedy stands alone among others, so it has to say its own isolation."""
    return bool(re.search(REMEDY, option, re.IGNORECASE)) and not re.search(
        r"isolated, locked|isolated and locked", option, re.I
    )


@pytest.mark.parametrize(
    "option",
    [
        "Ease the packing within its limits, else repack; stem looked at for scratches",
        "Set the spring adjuster, the maker's way, to the nameplate",
        "Actuator safe: align and tighten the stem connector",
    ],
)
def test_a_remedy_without_isolation_is_found(option: str) -> None:
    assert unsafe_remedy(option), "as trouble.w5 had it before"


@pytest.mark.parametrize("question", [q for q in QUESTIONS.values() if q.kind == "match"], ids=lambda q: q.id)
def test_a_remedy_to_be_matched_says_its_isolation(question: Question) -> None:
    assert [option.text for option in question.options if unsafe_remedy(option.text)] == []


@pytest.mark.parametrize(
    ("caution", "numbers"),
    [
        (safety.ADJUSTER, ("07", "08", "12", "13")),
        (safety.CASING, ("07", "08", "12")),
        (safety.TRAPPED, ("07", "12")),
        (safety.HANDS, ("07", "08", "09", "10", "12", "13", "16")),
        (safety.STROKE, ("10", "13", "16")),
        (safety.PACKING, ("09", "12", "13")),
        (safety.NO_ISOLATION, ("08", "10", "11", "12", "16")),
        (safety.LEAK_TEST, ("11", "15")),
        (safety.RELEASES_NOTHING, ("07", "08", "09", "10", "11", "12", "13", "15", "16")),
    ],
)
def test_the_lessons_say_each_caution_in_the_same_words(caution: str, numbers: tuple[str, ...]) -> None:
    for number in numbers:
        assert caution in " ".join(words for where, words in cells() if where.startswith(number)), number


def test_entry_wants_a_blind_or_a_gap() -> None:
    """HSG253: positive isolation for entry into a vessel; a vented piece between valves is none."""
    assert re.search(r"blind bolted in or a piece taken out", safety.ENTRY)
    lesson = " ".join(words for where, words in cells() if where.startswith("11"))
    assert safety.ENTRY in lesson
    for where, words in everything():
        offered = [each for each in sentences(words) if "vented piece" in each]
        assert all("never" in each for each in offered), where


def test_a_stem_is_uncoupled_without_load_and_off_its_seat() -> None:
    first, second, third = safety.UNCOUPLE
    assert first.startswith("Take the spring load off the connection first, as the maker says")
    assert "spring-to-close valve needs a little test air" in second
    assert safety.TEST_AIR in second
    assert "never turn a seated plug" in third
    lesson = " ".join(words for where, words in cells() if where.startswith("12"))
    order = (
        "Take the spring load off the connection first",
        "Lift the plug a little off its seat",
        "Never turn a seated plug",
    )
    assert [lesson.index(words) for words in order] == sorted(lesson.index(words) for words in order)
    for where, words in everything():
        if told(r"\buncouple|\bpart the (?:stem )?connect", words):
            assert re.search(r"spring load off", words), where
            assert re.search(r"off its seat", words), where


def test_test_air_leaves_the_lock_where_it_is_and_ends_dead() -> None:
    """29 CFR 1910.147(f)(1): people clear, energy on, then de-energise and apply the controls again."""
    for said in (
        "if the permit allows",
        "regulator of its own",
        "everybody clear",
        "stays locked",
        "dead is proved again",
    ):
        assert said in safety.TEST_AIR
    assert problems([*(step.text for step in safety.ISOLATION), safety.TEST_AIR]) == []


def test_a_card_that_moves_or_opens_something_says_its_cautions() -> None:
    wanted = {
        "bench_set": (safety.ADJUSTER, safety.CASING, safety.HANDS, safety.TEST_AIR),
        "shutoff": (safety.ADJUSTER, safety.HANDS),
        "seat_leakage": (safety.LEAK_TEST, safety.ENTRY),
        "stroke_errors": (safety.STROKE, safety.HANDS),
        "signals": (safety.HANDS,),
        "dead_band": (safety.STROKE, safety.HANDS, safety.PACKING),
        "hunting": (safety.PACKING, safety.HANDS),
        "packing": (safety.PACKING, safety.TEST_AIR, safety.HANDS),
        "tear_down": (safety.TRAPPED, safety.HANDS),
        "flow_at_travel": (safety.HANDS,),
    }
    for name, cautions in wanted.items():
        said = "\n".join(card_named(name).cautions)
        assert [each for each in cautions if each not in said] == [], name


@pytest.mark.parametrize("path", [p for p in notebooks() if p.name[:2].isdigit()], ids=lambda path: path.stem)
def test_every_lesson_says_who_decides_before_its_first_picture(path: Path) -> None:
    sources = ["".join(cell["source"]) for cell in json.loads(path.read_text("utf-8"))["cells"]]
    first = next((k for k, source in enumerate(sources) if source.startswith("live(")), len(sources))
    if path.name.startswith("00"):  # its only picture shows how a slider moves
        first = len(sources)
    before = " ".join(sources[:first]).lower()
    for said in ("local codes", "permit", "isolation procedure", "licensed"):
        assert said in before, said
    assert not re.search(r"\breleases? (?:this|the|your|a) job\b", before.replace("nothing here releases a job", ""))


def test_pictures_of_what_can_hurt_have_a_caution_beside_them() -> None:
    known = {*figures.LIVE, "actuator_reverse", "actuator_piston"}
    assert set(safety.BESIDE) <= known
    curves = {
        "inherent",
        "installed",
        "line",
        "cage_window",
        "papers",
    }  # show a curve, a shape or a paper, nobody at a valve
    assert set(figures.LIVE) - set(safety.BESIDE) == curves


def test_a_caution_is_shown_below_its_picture(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    from lessons.notebook import calls

    monkeypatch.chdir(tmp_path)
    shown: list[object] = []
    monkeypatch.setattr(calls, "display", lambda what, **_: shown.append(what))
    monkeypatch.setattr(calls, "_screen", OnScreen(calls.display))
    calls.live("bolting")
    calls.isolation()
    words = [str(getattr(each, "data", "")) for each in shown]
    assert safety.BESIDE["bolting"] in words[1]
    assert words[2] == safety.as_markdown()


def test_a_notebook_finds_the_call() -> None:
    from lessons.notebook import calls

    assert "isolation" in calls.__all__
