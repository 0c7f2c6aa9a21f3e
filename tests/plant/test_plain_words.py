"""Phrases that read as if translated, refused wherever a reader can meet them; the judge of the rest is a reader."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
ROOMS = ("lessons", "valvecalc", "grading")
KINDS = {".py", ".ipynb", ".js", ".html"}
REFUSED = (  # phrase, what is said instead; common practice, no source
    (r"lessons play at", "are set at"),
    (r"cannot follow to this", "cannot be drawn at"),
    (r"\bfirst mend\b", "first correct"),
    (r"nobody but a person", "a person will"),
    (r"go the curve\b", "read the curve"),
    (r"\bbegins anew\b", "starts again"),
    (r"\bholds? (?:it|them|its \w+|plate\b.{0,30}|the valve|a valve.{0,30}) against\b", "compare with"),
    (r"\bstands (?:a )?higher (?:air )?pressure", "can take"),
    (r"pipework more and more", "the pipework takes more as flow rises"),
    (r"Show SI units", "Show metric units"),
    (r"looks shaky at present", "needs another look"),
    (r"\bNothing holds “", "nothing was found for"),
    (r"\bcomputed, not recited\b", "worked out"),
    (r"\breckons with your\b", "works with your"),
    (r"\bdrives it home\b", "moves it to"),
    (r"\bdoes it stir\b", "begins to move"),
    (r"\bpressed together(?: \d|\b)", "compressed"),
    (r"operations' word\b", "when operations agree"),
    (r"\bfetch it for\b", "choose it for"),
    (r"\b1 (?:letters|points|questions|pages|hand-ins|answers) (?:were|are)\b", "one helper counts: counted"),
    (r"\bclass is no pressure\b", "a class is not a pressure"),
    (r"\b(?:was|were|is|are) reckoned for\b", "worked out for"),
    (r"\bbolts? .{0,20}pulled to (?:the|that|\{)", "tightened to"),
    (r"\bbring the steps into order\b", "put the steps in order"),
    (r"\bdoes not run just now\b", "is not running just now"),
    (r"\bhow far you are\b", "how far you have got"),
    (r"\b(?:has|have) changed meanwhile\b", "have changed since"),
    (r"\bwhat (?:comes|becomes) of (?:it|the steam)\b", "what will happen"),
    (r"\bAsk of each\b", "Each time, ask"),
    (r"\bby-pass", "bypass: one spelling for one thing"),
    (r"\bother rules come in\b", "other rules apply"),
    (r"\ball else as it (?:is|was)\b", "if nothing else changes"),
    (r"\bgive him\b|\bwhere he was\b", "no he for a reader: they, or no pronoun"),
)
SAID = (
    "The lessons play at Ostrel Point.", "The picture cannot follow to this value.", "First mend the boxes.",
    "Nobody but a person can mark it.", "Go the curve backwards.", "all begins anew", "It holds them against the limit.",
    "A piston actuator stands higher air pressure.", "for its pipework more and more", "Show SI units",
    "No idea looks shaky at present.", "Nothing holds “x”.", "Computed, not recited.", "A card reckons with your numbers.",
    "nothing drives it home", "Only then does it stir.", "pressed together 48 mm", "only with operations' word",
    "fetch it for", "1 letters were read", "A class is no pressure.", "The spring was reckoned for PTFE.",
    "The bolts were greased, and pulled to that torque.", "Bring the steps into order: drag", "The lesson does not run just now.",
    "How far you are", "The numbers have changed meanwhile.", "What comes of it first?", "Ask of each whom it helps.",
    "loop in manual or valve by-passed", "Above 400 °C other rules come in.", "at least, all else as it is?",
    "Tell your instructor, and give him the file.",
)  # fmt: skip
# A number with one of these behind it goes through the one helper that counts: `counted`, in Python and in the scripts.
THINGS = (
    "answers|apprentices|badges|bolts|cards|cells|characters|digits|discs|files|hand-ins|lessons|letters|lines|marks|minutes|"
    "names|notebooks|nuts|options|pages|parts|people|points|positions|questions|readings|seconds|sets|things|times|tries|words|"
    "work orders|zips"
)
COUNTED = re.compile(rf"\s(?:more |practice |work order )?(?:{THINGS})\b")
COUNTED_IN_SCRIPT = re.compile(rf"\$\{{[^}}]*\}} (?:more |practice |work order )?(?:{THINGS})\b")


def texts() -> list[tuple[str, str]]:
    files = [file for room in ROOMS for file in (ROOT / room).rglob("*") if file.suffix in KINDS]
    shown = [file for file in files if not {"__pycache__", ".ipynb_checkpoints"} & {*file.parts}]
    whole = [*shown, ROOT / "README.md", ROOT / "DEVELOPERS.md"]
    return [(str(file.relative_to(ROOT)), file.read_text(encoding="utf-8")) for file in whole]


def numbers_before_things(code: str) -> Iterator[str]:
    """Give each f-string part where a number that may be one stands before a thing in the plural.

    Names in capitals are limits above one; a number with decimals takes the plural.

    >>> list(numbers_before_things("f'{n} files', f'{n:.1f} points', f'{MOST} parts', f'{n} of it'"))
    ['{n} files']
    """
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.JoinedStr):
            for number, words in zip(node.values, node.values[1:], strict=False):
                if isinstance(number, ast.FormattedValue) and isinstance(words, ast.Constant):
                    found = COUNTED.match(str(words.value))
                    what = ast.unparse(number.value)
                    decimals = number.format_spec is not None and re.search(
                        r"\.[1-9]f", ast.unparse(number.format_spec)
                    )
                    if found and not decimals and not re.fullmatch(r"[A-Z_ /0-9]+", what):
                        yield f"{{{what}}}{found[0]}"


@pytest.mark.parametrize(("phrase", "instead"), REFUSED)
def test_no_reader_meets_a_translated_phrase(phrase: str, instead: str) -> None:
    found = [where for where, text in texts() if re.search(phrase, text, re.IGNORECASE)]
    assert found == [], f"say: {instead}"


@pytest.mark.parametrize(("phrase", "said"), list(zip([p for p, _ in REFUSED], SAID, strict=True)))
def test_the_search_finds_it_where_it_stands(phrase: str, said: str) -> None:
    assert re.search(phrase, said, re.IGNORECASE)


@pytest.mark.parametrize("room", [*ROOMS, "practice", "workorders", "page_side", "job_cards"])
def test_every_room_is_read(room: str) -> None:
    assert len([where for where, _ in texts() if room in Path(where).parts]) > 5


def test_numbers_and_things_are_counted_by_one_helper() -> None:
    found = {
        where: [*(numbers_before_things(text) if where.endswith(".py") else COUNTED_IN_SCRIPT.findall(text))]
        for where, text in texts()
        if where.endswith((".py", ".js"))
    }
    assert {where: said for where, said in found.items() if said} == {}


@pytest.mark.parametrize(
    ("code", "found"),
    [
        ('f"{len(found)} letters were read"', ["{len(found)} letters"]),
        ("f\"{counted(n, 'letter')} read\"", []),
        ('f"{n:g} more points"', ["{n} more points"]),
        ('f"{MAX_CELLS} cells"', []),
    ],
)
def test_the_search_for_numbers_finds(code: str, found: list[str]) -> None:
    assert list(numbers_before_things(code)) == found


def test_the_search_in_scripts_finds() -> None:
    assert COUNTED_IN_SCRIPT.search("`${due} questions come back`")
    assert not COUNTED_IN_SCRIPT.search('`${counted(due, "question")} left`')
