"""A user of the machine and of the hub for everybody on the class list; first passwords are told once, on slips."""

from __future__ import annotations

import grp
import pwd
import secrets
import shutil
import subprocess
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from grading.course.course import CourseError
from grading.course.roster import Apprentice
from grading.hub.school import TEACHERS, School, user_of

_CONSONANTS, _VOWELS = "bdfgklmnprstvz", "aeiou"  # no letters that are mistaken for others when read aloud


def make_users(school: School) -> None:
    """Make the users of the machine that are missing, each with a folder only the owner and the instructor open.

    Raises
    ------
    CourseError
        If a user of that name is there already and is not the school's.
    """
    if not _group(TEACHERS):
        _run("groupadd", "--system", TEACHERS)
    _run("usermod", "--append", "--groups", TEACHERS, school.teacher)
    (school.root / "homes").mkdir(parents=True, exist_ok=True)
    for user, person in school.users().items():
        home = school.home(user)
        known = _user(user)
        if known and Path(known.pw_dir) != home:
            raise CourseError(
                f"This machine has a user {user} already, with the folder {known.pw_dir}, who is not of this school. "
                f"Rename that user, or give badge {person.badge} another one in roster.csv."
            )
        if not known:
            # No shell and no password on the machine: the only way in is the hub.
            _run("useradd", "--home-dir", str(home), "--no-create-home", "--user-group",
                 "--shell", "/usr/sbin/nologin", user)  # fmt: skip
        home.mkdir(exist_ok=True)
        shutil.chown(home, user, TEACHERS)
        home.chmod(0o2750)


def sign_in_data(school: School, renew: Sequence[str] = ()) -> dict[str, str]:
    """Bring the hub's list of people in line with the class list; return the first passwords that were made.

    Whoever has a password keeps it, unless it is to be renewed. Whoever left the list can no longer sign in; the folder
    with their work stays.
    """
    wanted = {*school.users(), school.teacher}
    made: dict[str, str] = {}
    with _people(school) as (session, info, user):
        for gone in [each for each in session.query(info) if each.username not in wanted]:
            session.delete(gone)
        for gone in [each for each in session.query(user) if each.name not in wanted]:
            session.delete(gone)  # with all cookies and tokens
        known = {each.username: each for each in session.query(info)}
        for name in sorted(wanted):
            if name in known and name not in renew:
                continue
            made[name] = first_password()
            _set(session, info, known.get(name), name, made[name])
        session.commit()
    return made


def _set(session: Any, info: Any, known: Any, name: str, password: str) -> None:
    import bcrypt

    coded = bcrypt.hashpw(password.encode(), bcrypt.gensalt())
    if known:
        known.password = coded
    else:
        session.add(info(username=name, password=coded, is_authorized=True))


@contextmanager
def _people(school: School) -> Iterator[tuple[Any, Any, Any]]:
    """Open the hub's own database: a session, the table of passwords, the table of users."""
    # Here, because a machine without a hub has none of them. The table must be known before the database is made.
    from jupyterhub import orm
    from nativeauthenticator.orm import UserInfo

    session = orm.new_session_factory(database(school))()
    (school.hub / "jupyterhub.sqlite").chmod(0o600)
    try:
        yield session, UserInfo, orm.User
    finally:
        session.close()
        session.get_bind().dispose()


def database(school: School) -> str:
    """Return the address of the hub's own database."""
    return f"sqlite:///{school.hub / 'jupyterhub.sqlite'}"


def first_password() -> str:
    """Make a password that can be read aloud and typed on a tablet: 41 bits, and the hub stops guessing.

    >>> import re
    >>> bool(re.fullmatch("[a-z]{4}-[a-z]{4}-[0-9]{5}", first_password()))
    True
    """
    parts = ["".join(secrets.choice(_CONSONANTS) + secrets.choice(_VOWELS) for _ in range(2)) for _ in range(2)]
    return f"{parts[0]}-{parts[1]}-{secrets.randbelow(90_000) + 10_000}"


def slips(school: School, made: dict[str, str]) -> list[str]:
    """Return a slip for each password that was made, to cut up and hand out."""
    people: dict[str, Apprentice] = school.users()
    return [
        f"- - - - - - - - - -\n{people[user].name if user in people else 'Instructor'}\n"
        f"Address:  {school.address}\n"
        f"Username: {people[user].badge if user in people else user}\n"
        f"Password: {password}\n"
        f"Choose your own: {school.address}hub/change-password"
        for user, password in made.items()
    ]


def names_to_renew(school: School, badges: Sequence[str]) -> list[str]:
    """Return the users whose password is to be renewed.

    Raises
    ------
    CourseError
        If one is not on the class list.
    """
    roster = {badge.lower() for badge in school.opened().roster}
    if strangers := [each for each in badges if each.lower() not in roster and each != school.teacher]:
        raise CourseError(f"No such badge in roster.csv: {', '.join(strangers)}. Nothing was changed.")
    return [each if each == school.teacher else user_of(each) for each in badges]


def _user(name: str) -> pwd.struct_passwd | None:
    try:
        return pwd.getpwnam(name)
    except KeyError:
        return None


def _group(name: str) -> bool:
    try:
        return bool(grp.getgrnam(name))
    except KeyError:
        return False


def _run(*command: str) -> None:
    ran = subprocess.run(command, capture_output=True, text=True, check=False)  # noqa: S603 - our own words
    if ran.returncode:
        raise CourseError(f"{command[0]} could not be carried out: {ran.stderr.strip() or ran.returncode}")
