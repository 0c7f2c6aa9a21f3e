"""The scripts of a page are modules that name what they use of each other; the browser gets them as one text."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import lessons
from lessons.live.page_script import page_script

ROOM = Path(lessons.__file__).parent
MAINS = [ROOM / "live" / "page_side" / "live.js", ROOM / "card_page" / "page_side" / "card.js"]
TOP = re.compile(r"^(?:export )?(?:default )?(?:async )?(?:function|const|let) (\w+)", re.MULTILINE)


@pytest.mark.parametrize("main", MAINS, ids=lambda path: path.stem)
def test_one_text_has_every_name_once_and_names_no_other_file(main: Path) -> None:
    script = page_script(main)
    assert not re.search(r"^import\b", script, re.MULTILINE)
    names = TOP.findall(script)
    assert len(names) == len(set(names)) > 20
    exported = re.findall(r"^export .*", script, re.MULTILINE)
    assert exported == re.findall(r"^export .*", main.read_text("utf-8"), re.MULTILINE)


@pytest.mark.parametrize("main", MAINS, ids=lambda path: path.stem)
def test_every_script_of_a_page_is_in_it_before_it_is_used(main: Path) -> None:
    script = page_script(main)
    first_lines = [path.read_text("utf-8").partition("\n")[0] for path in main.parent.glob("*.js")]
    places = [script.index(line) for line in first_lines]
    assert max(places) == script.index(main.read_text("utf-8").partition("\n")[0])
    assert [script.count(line) for line in first_lines] == [1] * len(first_lines)


def test_what_two_scripts_import_comes_once(tmp_path: Path) -> None:
    (tmp_path / "base.js").write_text("export const one = 1;\n")
    (tmp_path / "left.js").write_text('import { one } from "./base.js";\nexport function left() { return one; }\n')
    (tmp_path / "main.js").write_text(
        'import { one } from "./base.js";\nimport {\n  left,\n} from "./left.js";\nexport default { both: one + left() };\n'
    )
    assert page_script(tmp_path / "main.js") == (
        "const one = 1;\nfunction left() { return one; }\nexport default { both: one + left() };\n"
    )
