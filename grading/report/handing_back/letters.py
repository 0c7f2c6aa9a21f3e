"""The pages handed back as e-mails to send: one for each apprentice, and in each only that one's own page."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP

from grading.course.course import Course, write_safely
from grading.course.roster import Apprentice
from lessons.notebook import bank

FOLDER = "to_mail"
_WORDS = """Hello {name},

your work order of “{title}” is marked. Your page is attached. Open it in a browser: it shows your points, what was
read of your answers, and what to look at again.
"""


@dataclass
class Letters:
    """What came of writing e-mails: how many, and who has a page but gets none, with the reason."""

    count: int = 0
    without: list[str] = field(default_factory=list)


def write_letters(course: Course, lesson: str) -> Letters:
    """Write an e-mail for everybody whose page of a lesson is handed back; return what came of it."""
    found, folder = Letters(), course.root / FOLDER / lesson
    uses = Counter(person.mail.lower() for person in course.roster.values())
    for left_over in folder.glob("*.eml"):
        left_over.unlink()
    for badge, person in course.roster.items():
        page = course.root / "handed_back" / badge / lesson / f"{lesson}.html"
        if not page.exists():
            continue
        if not person.mail or uses[person.mail.lower()] > 1:
            why = "has the same address as another" if person.mail else "has no address"
            found.without.append(f"{badge} {person.name} {why} in roster.csv")
            continue
        write_safely(folder / f"{badge}.eml", letter(lesson, person, page.read_text(encoding="utf-8")), mode=0o600)
        found.count += 1
    return found


def letter(lesson: str, person: Apprentice, page: str) -> bytes:
    """Return an e-mail that holds one page; who sends it, the mail program fills in."""
    message = EmailMessage(policy=SMTP)
    message["To"] = Address(person.name, addr_spec=person.mail)
    message["Subject"] = f"{bank.title_of(lesson)}: your marks"
    message["X-Unsent"] = "1"  # many mail programs then open it as a draft, to be sent with one click
    message.set_content(_WORDS.format(name=person.name, title=bank.title_of(lesson)))
    message.add_attachment(page, subtype="html", filename=f"{lesson}.html")
    return message.as_bytes()
