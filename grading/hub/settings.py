"""What the hub is told: its people, how it is reached, which rights each server has. Read by the hub when it starts."""

from __future__ import annotations

import atexit
import os
from pathlib import Path
from typing import Any

from grading.course.course import REPOSITORY
from grading.hub.accounts import database
from grading.hub.leftovers import LastWords, end_well
from grading.hub.school import PLAN, School, read_plan
from grading.hub.school_boxes import BOXES
from lessons.jupyter.from_instructor import BOX
from lessons.jupyter.on_hub import IDLE
from lessons.live.kept import FOLDER

CLASS_PAGE = "class"  # the service that shows who is where


def apply(c: Any, hub_folder: str) -> None:
    """Fill in the hub's configuration from the plan of the school."""
    school = read_plan(Path(hub_folder) / PLAN)
    _reached(c, school)
    _people(c, school)
    _servers(c, school)
    _services(c, school)
    _end(c, school)


def _end(c: Any, school: School) -> None:
    """Have the hub end well. By itself it leaves proxy and services running where one of them fails at its start."""
    words = {"class": "grading.hub.leftovers.LastWords", "level": "ERROR"}
    c.JupyterHub.logging_config = {
        "handlers": {"last words": words},
        "loggers": {"JupyterHub": {"handlers": ["console", "last words"]}},
    }
    atexit.register(end_well, school, LastWords.said)


def _reached(c: Any, school: School) -> None:
    hub, proxy, _page = school.ports
    c.JupyterHub.bind_url = school.bound
    c.JupyterHub.hub_bind_url = f"http://127.0.0.1:{hub}"
    c.ConfigurableHTTPProxy.api_url = f"http://127.0.0.1:{proxy}"
    c.ConfigurableHTTPProxy.command = [school.proxy]
    c.ConfigurableHTTPProxy.pid_file = str(school.hub / "proxy.pid")
    c.JupyterHub.ssl_cert, c.JupyterHub.ssl_key = school.cert, school.key
    c.JupyterHub.db_url = database(school)
    c.JupyterHub.cookie_secret_file = str(school.hub / "cookie_secret")
    c.JupyterHub.implicit_spawn_seconds = 1  # a server that was ended starts again by itself when its page is opened
    c.JupyterHub.cookie_max_age_days = 1  # tablets go from hand to hand
    if school.cert:
        c.JupyterHub.tornado_settings = {"headers": {"Strict-Transport-Security": "max-age=31536000"}}


def _people(c: Any, school: School) -> None:
    import nativeauthenticator  # here and below, because a machine without a hub has none

    users = school.users()
    c.JupyterHub.authenticator_class = nativeauthenticator.NativeAuthenticator
    c.JupyterHub.template_paths = [str(Path(nativeauthenticator.__file__).parent / "templates")]
    c.Authenticator.allowed_users = {*users, school.teacher}
    c.Authenticator.allow_existing_users = False  # whoever left the list is out
    c.Authenticator.username_map = {person.badge.lower(): user for user, person in users.items()}
    c.NativeAuthenticator.enable_signup = False
    c.NativeAuthenticator.minimum_password_length = 8
    c.NativeAuthenticator.check_common_password = True
    c.NativeAuthenticator.allowed_failed_logins = 10
    c.NativeAuthenticator.seconds_before_next_try = 60


def _servers(c: Any, school: School) -> None:
    c.JupyterHub.spawner_class = "jupyterhub.spawner.LocalProcessSpawner"
    c.Spawner.cmd = [school.python, "-m", "lessons.jupyter.on_hub"]
    c.Spawner.default_url = "/lab/tree/00_start_here.ipynb"
    c.Spawner.disable_user_config = True  # nothing in an apprentice's folder decides how their server starts
    c.Spawner.env_keep = ["LANG", "LC_ALL"]
    c.Spawner.start_timeout = c.Spawner.http_timeout = 180  # a whole class signs on at once
    c.Spawner.environment = {
        "PATH": os.pathsep.join([str(Path(school.python).parent), "/usr/local/bin", "/usr/bin", "/bin"]),
        "JUPYTER_CONFIG_PATH": str(school.config),
        BOX: lambda spawner: str(school.exchange / BOXES / spawner.user.name),
        IDLE: str(school.idle),
        FOLDER: str(school.pictures),
    }
    c.Spawner.pre_spawn_hook = lambda spawner: for_instructor(spawner, school)


def for_instructor(spawner: Any, school: School) -> None:
    """Give the instructor's server the course's folder and the instructor's side; everybody else's stays as it is."""
    if spawner.user.name != school.teacher:
        return
    spawner.cmd = [school.python, "-m", "grading.hub.desk", school.course]
    spawner.default_url = "/lab"
    own = {"PYTHONPATH": str(REPOSITORY), "OSTREL_SCHOOL": school.folder}
    spawner.environment = {**spawner.environment, **own, BOX: "", "JUPYTER_CONFIG_PATH": ""}


def _services(c: Any, school: School) -> None:
    c.JupyterHub.services = [
        {
            "name": "culler",
            "user": "nobody",
            "command": [school.python, "-m", "jupyterhub_idle_culler", f"--timeout={2 * school.idle}"],
        },
        {
            "name": CLASS_PAGE,
            "user": school.teacher,
            "url": f"http://127.0.0.1:{school.ports[2]}",
            "command": [school.python, "-m", "grading.hub.class_service", school.folder, school.course],
            "environment": {"PYTHONPATH": str(REPOSITORY)},
            "cwd": str(REPOSITORY),
            "oauth_no_confirm": True,
        },
    ]
    c.JupyterHub.load_roles = [
        {
            "name": "culler",
            "services": ["culler"],
            "scopes": ["list:users", "read:users:activity", "read:servers", "delete:servers"],
        },
        {
            "name": "instructor",
            "users": [school.teacher],
            "scopes": ["self", f"access:services!service={CLASS_PAGE}"],
        },
    ]
