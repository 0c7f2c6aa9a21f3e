"""Whose a file is, by the names of file, folder, zip or subject."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grading.course.roster import Apprentice
from grading.taking_in.known_names import KnownNames
from grading.taking_in.owners import Owner, Owners, UnsureError

PEOPLE = [
    Apprentice("4711", "Ada Example", mail="ada@example.org"),
    Apprentice("4712", "Ben Example"),
    Apprentice("04", "Łukasz Müller"),
    Apprentice("2026", "Eve O'Brien-Ng", mail="Eve.ONg@example.org"),
    Apprentice("A-12", "Cleo"),
    Apprentice("a", "Dan M. Sample"),
    Apprentice("Jo_1", "Jo Stone"),
    Apprentice("b7", "Jo Marie Stone"),
]
ROSTER = {person.badge: person for person in PEOPLE}
LESSONS = ["04_inherent_characteristic"]
OWNERS = Owners(ROSTER, LESSONS, {"3000": "4711", "4712": "4711"})

NAMED = [
    (("4711.ipynb",), "4711"),
    (("4711", "04_inherent_characteristic.ipynb"), "4711"),
    (("4711_04_inherent_characteristic.ipynb",), "4711"),
    (("04_inherent_characteristic (4711).ipynb",), "4711"),
    (("04_inherent_characteristic-4711-1.ipynb",), "4711"),
    (("04.ipynb",), "04"),
    (("4711+04_inherent_characteristic+2026-01-02 03:04:05.678901 UTC+x", "04_inherent_characteristic.ipynb"), "4711"),
    (("4711 2026-01-02.zip", "04_inherent_characteristic", "04_inherent_characteristic.ipynb"), "4711"),
    (("a-12.ipynb",), "A-12"),
    (("a12.ipynb",), "A-12"),
    (("A 12 lesson.ipynb",), "A-12"),
    (("a_12", "lesson.ipynb"), "A-12"),
    (("B-7.ipynb",), "b7"),
    (("JO-1.ipynb",), "Jo_1"),
    (("3000.ipynb",), "4711"),  # the badge she had earlier
    (("Jo_1.IPYNB",), "Jo_1"),
    (("Work order, badge 4711: done", "Untitled.ipynb"), "4711"),
    (("4711", "4711.ipynb"), "4711"),
    # Exports of learning systems, and files, named by person.
    (("Example Ada_12345_assignsubmission_file_", "04_inherent_characteristic.ipynb"), "4711"),
    (("export.zip", "EXAMPLE Ben_12346_assignsubmission_file_", "work.zip", "x.ipynb"), "4712"),
    (("Mueller Lukasz_9_file_", "x.ipynb"), "04"),
    (("Mu\u0308ller, Łukasz", "x.ipynb"), "04"),
    (("AdaExample.ipynb",), "4711"),
    (("OBrien-Ng_Eve.ipynb",), "2026"),
    (("Sample Dan.ipynb",), "a"),
    (("Stone Jo Marie_17_", "x.ipynb"), "b7"),
    (("ada@example.org", "x.ipynb"), "4711"),
    (("4711 (2).ipynb",), "4711"),
    (("4711", "04_inherent_characteristic-04.ipynb"), "4711"),  # saved again, and counted
]
UNNAMED = [
    (("homework.ipynb",), "has a badge of roster.csv", ()),
    (("47112.ipynb",), "has a badge of roster.csv", ()),
    (("x4711.ipynb",), "has a badge of roster.csv", ()),
    (("04_inherent_characteristic.ipynb",), "has a badge of roster.csv", ()),
    (("04_inherent_characteristic 04.ipynb",), "has a badge of roster.csv", ()),  # or is it the fourth copy?
    (("4711", "4712.ipynb"), "two badges, 4711 and 4712", ("4711", "4712")),
    (("4711_4712.ipynb",), "two badges, 4711 and 4712", ("4711", "4712")),
    (("Example_1_file_", "x.ipynb"), "4711 Ada Example or 4712 Ben Example", ("4711", "4712")),
    (("Adda Exampel.ipynb",), "Perhaps it is of", ("4711", "4712")),
    (("Stone Jo_17_", "x.ipynb"), "Jo_1 Jo Stone or b7 Jo Marie Stone", ("Jo_1", "b7")),
    (("Ada Example and Ben Example.ipynb",), "could be of", ("4711", "4712")),
    (("Ada Example", "Ben Example.ipynb"), "could be of", ("4711", "4712")),
    (("Cleo.ipynb",), "Perhaps it is of A-12 Cleo", ("A-12",)),
    # The number of the learning system is somebody else's badge.
    (("Example Ada_4712_assignsubmission_file_", "x.ipynb"), "also the name of 4711", ("4712", "4711")),
]


@pytest.mark.parametrize(("names", "badge"), NAMED)
def test_the_owner_is_found(names: tuple[str, ...], badge: str) -> None:
    found = OWNERS.of(names)
    assert (found.badge, found.doubt) == (badge, "")


@pytest.mark.parametrize(("names", "said", "badges"), UNNAMED)
def test_where_it_is_not_sure_the_instructor_is_asked(
    names: tuple[str, ...], said: str, badges: tuple[str, ...]
) -> None:
    with pytest.raises(UnsureError, match=said) as problem:
        OWNERS.of(names)
    assert problem.value.badges == badges


SENT = [
    ("her address", "Somebody <ADA@example.org>", Owner("4711", "taken in for 4711 Ada Example by its sender")),
    ("a name", "Ben Example <ben@home.org>", Owner("4712", "taken in for 4712 Ben Example by its sender")),
    ("a name in an address", "lukasz.mueller@home.org", Owner("04", "taken in for 04 Łukasz Müller by its sender")),
    (
        "her name, a strange address",
        "Ada Example <x@home.org>",
        Owner(
            "4711",
            "taken in for 4711 Ada Example by its sender",
            "it came from x@home.org, which is not the address in roster.csv",
        ),
    ),
]


@pytest.mark.parametrize(("sender", "owner"), [row[1:] for row in SENT], ids=[row[0] for row in SENT])
def test_a_mail_is_known_by_its_sender(sender: str, owner: Owner) -> None:
    assert OWNERS.of(("my lesson", "x.ipynb"), sender) == owner


def test_somebody_elses_sender_is_told() -> None:
    assert OWNERS.of(("4712.ipynb",), "ada@example.org").doubt == "it was sent by 4711 Ada Example"
    with pytest.raises(UnsureError, match="4711 Ada Example or 4712 Ben Example"):
        OWNERS.of(("Ben Example.ipynb",), "ada@example.org")


def test_an_address_in_a_mail_that_was_passed_on_is_only_asked_about() -> None:
    with pytest.raises(UnsureError, match="Perhaps it is of 2026") as problem:
        OWNERS.of(("x.ipynb",), "teacher@example.org", ("teacher@example.org", "eve.ong@example.org"))
    assert problem.value.badges == ("2026",)


def test_of_two_badges_that_a_run_may_stand_for_neither_is_taken() -> None:
    owners = Owners({each: Apprentice(each, each) for each in ("A-1", "A_1")}, [], {})
    assert owners.of(("a-1.ipynb",)).badge == "A-1"
    with pytest.raises(UnsureError):
        owners.of(("a 1.ipynb",))


def test_a_badge_of_earlier_that_somebody_has_today_is_theirs() -> None:
    assert OWNERS.of(("4712.ipynb",)).badge == "4712"


@given(st.text(max_size=80), st.text(max_size=80))
def test_any_names_lead_to_somebody_on_the_list_or_to_a_question(name: str, sender: str) -> None:
    try:
        assert OWNERS.of((name,), sender).badge in ROSTER
    except UnsureError as problem:
        assert set(problem.badges) <= ROSTER.keys()


def test_a_large_class_is_looked_up_as_fast() -> None:
    """By word and not by walking the list: what is looked at for one name does not grow with the class."""
    many = KnownNames({str(n): Apprentice(str(n), f"Ada{n:05} Example{n:05}".translate(LETTERS)) for n in range(5000)})
    assert many.by_name("Example00017_Ada00017".translate(LETTERS)) == {"17"}


LETTERS = str.maketrans("0123456789", "abcdefghij")
