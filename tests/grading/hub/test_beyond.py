"""The files for more than one machine: read as data, as far as can be without a cluster or a container engine."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import sysconfig
import tomllib
from importlib.metadata import Distribution, version
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement

from grading.hub import settings, welcome
from grading.hub.school import user_of
from lessons.jupyter import from_instructor, on_hub
from lessons.live import kept
from lessons.notebook import figures

yaml = pytest.importorskip("yaml")  # of the notebook server's own needs
ROOT = Path(__file__).parents[3]
FILES = ROOT / "grading/hub/beyond_one_machine"
VALUES = yaml.safe_load((FILES / "values.yaml").read_text(encoding="utf-8"))
RECIPE = (FILES / "Containerfile").read_text(encoding="utf-8")
# The keys used, as the chart documents them (zero-to-jupyterhub, configuration reference; from memory but for
# hub.config, which was read in the chart's schema). A key the chart does not know stops its installation.
KNOWN = {
    "hub": {"config", "db", "networkPolicy"},
    "proxy": {"https"},
    "singleuser": {
        "image", "cmd", "defaultUrl", "uid", "fsGid", "allowPrivilegeEscalation", "memory", "cpu", "startTimeout",
        "extraEnv", "storage", "cloudMetadata", "networkPolicy",
    },
    "cull": {"enabled", "timeout", "every"},
    "scheduling": {"userScheduler"},
}  # fmt: skip


def test_only_keys_of_the_chart_are_used() -> None:
    assert set(VALUES) <= set(KNOWN)
    assert {part: sorted(set(VALUES[part]) - KNOWN[part]) for part in VALUES if set(VALUES[part]) - KNOWN[part]} == {}


def test_both_say_that_no_cluster_ran_them() -> None:
    for name in ("values.yaml", "Containerfile"):
        assert "NOT RUN ON A CLUSTER" in (FILES / name).read_text(encoding="utf-8")


class Told(dict[str, Any]):
    """A configuration that takes whatever it is told, by dots."""

    def __getattr__(self, name: str) -> Any:
        return self.setdefault(name, Told())

    def __setattr__(self, name: str, value: Any) -> None:
        self[name] = value


def test_sign_in_is_as_closed_as_on_one_machine(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    pytest.importorskip("nativeauthenticator", reason="the extra hub is not installed")
    from grading.course.course import new_course
    from grading.hub.school import School

    new_course(tmp_path / "course")
    c = Told()
    settings._people(c, School(str(tmp_path), str(tmp_path / "course"), "teacher", "", "", ""))
    wanted = VALUES["hub"]["config"]
    assert wanted["NativeAuthenticator"] == dict(c.NativeAuthenticator)
    assert wanted["Authenticator"]["allow_existing_users"] == c.Authenticator.allow_existing_users
    assert wanted["Authenticator"]["username_map"] == {badge: user_of(badge) for badge in ("4711", "4712")}
    assert wanted["Authenticator"]["allowed_users"] == [user_of(badge) for badge in ("4711", "4712")]


def test_a_pod_sees_its_own_box_and_inbound_only() -> None:
    single = VALUES["singleuser"]
    mounts = {each["mountPath"]: each for each in single["storage"]["extraVolumeMounts"]}
    course = json.loads((FILES / "settings/nbgrader_config.json").read_text())["CourseDirectory"]["course_id"]
    assert mounts[f"/srv/exchange/{course}/inbound"]["subPath"] == "inbound/{username}"
    box = mounts[single["extraEnv"][from_instructor.BOX]]
    assert (box["subPath"], box["readOnly"]) == ("boxes/{username}", True)
    assert on_hub.IDLE in single["extraEnv"]
    assert all("{username}" in each["subPath"] or each.get("readOnly") for each in mounts.values())
    rules = single["networkPolicy"]["egressAllowRules"]
    assert not any(rules[each] for each in ("nonPrivateIPs", "privateIPs", "cloudMetadataServer"))


def test_the_image_turns_off_what_one_machine_turns_off() -> None:
    off = json.loads((FILES / "settings/jupyter_server_config.json").read_text())["ServerApp"]["jpserver_extensions"]
    assert off == {f"nbgrader.server_extensions.{name}": False for name in welcome._OFF}


def test_the_recipe_names_what_there_is() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    bounded = re.findall(r'"(\w+)>=([\d.]+)(?:,<\d+)?"', RECIPE)
    extras = "\n".join(each for extra in project["optional-dependencies"].values() for each in extra)
    assert bounded
    assert all(f"{name}>={least}" in extras for name, least in bounded)
    command = VALUES["singleuser"]["cmd"]
    assert json.dumps(command) in RECIPE.replace("'", '"')
    assert subprocess.run([sys.executable, "-c", f"import {command[-1]}"], cwd=ROOT, check=False).returncode == 0
    assert f":{project['version']}" in RECIPE
    assert VALUES["singleuser"]["image"]["tag"] == project["version"]


STEPS = dict(re.findall(r"^(COPY wheel|COPY settings|RUN pip|RUN mkdir|ENV|CMD)(.*)$", RECIPE, re.MULTILINE))
# What the image's command does before it serves, and what must and must not be there.
STARTS = """
import importlib.util, json, os, sys
from pathlib import Path
from lessons.jupyter import on_hub
from lessons.jupyter.lesson_page import EXTENSIONS, LAB_SETTINGS
home = Path.home() / "my-lessons"
on_hub.make_ready(home)
on_hub.leave_out_what_lessons_do_not_use()
from jupyter_client.kernelspec import KernelSpecManager
from jupyter_core.paths import jupyter_config_path
print(json.dumps({
    "lessons": len(list(home.glob("[0-9][0-9]_*.ipynb"))),
    "from": str(Path(on_hub.__file__).parents[2]),
    "keys": [name for name in ("grading", "tests") if importlib.util.find_spec(name)],
    "settings": sorted(each.name for folder in jupyter_config_path() for each in Path(folder).glob("*.json")),
    "page": (EXTENSIONS / "ostrel-lesson-page/package.json").is_file(),
    "kernel": KernelSpecManager().get_kernel_spec("python3").argv[1],
    "options": len(on_hub.hub_options(home)),
}))
"""


@pytest.fixture(scope="module")
def image(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Carry out the steps of the recipe in a folder; what the package needs is that of this environment."""
    pytest.importorskip("nativeauthenticator", reason="the extra hub is not installed")
    root = tmp_path_factory.mktemp("image")
    pip = [sys.executable, "-m", "pip"]
    build = [*pip, "wheel", "-q", "--no-deps", "--no-build-isolation", "-w", str(root / "tmp/wheel"), str(ROOT)]
    subprocess.run(build, check=True, capture_output=True)
    (wheel,) = (root / "tmp/wheel").glob("*.whl")
    install = [*pip, "install", "-q", "--no-deps", "--no-index", "--target", str(root / "site"), str(wheel)]
    subprocess.run(install, check=True, capture_output=True)
    shutil.copytree(FILES / "settings", root / STEPS["COPY settings"].split()[-1].strip("/"))
    return root


def test_what_is_installed_goes_together(image: Path) -> None:
    """Each requirement of the wheel and of the recipe is met by a release that is installed here."""
    (about,) = (image / "site").glob("*.dist-info")
    wheel = [Requirement(each) for each in Distribution.at(about).requires or ()]
    named = [Requirement(each) for each in re.findall(r'"([^"]+)"', STEPS["RUN pip"])]
    needed = [each for each in (*wheel, *named) if not each.marker or each.marker.evaluate({"extra": ""})]
    assert {each.name for each in named} == {"jupyterhub", "nbgrader"}
    assert [str(each) for each in needed if version(each.name) not in each.specifier] == []


def test_its_command_makes_a_working_copy_and_finds_no_keys(image: Path) -> None:
    (image / "home").mkdir()
    # -S: the clone that this environment may name is not there.
    libraries = os.pathsep.join([str(image / "site"), sysconfig.get_path("purelib")])
    environment = {"PATH": os.environ["PATH"], "HOME": str(image / "home"), "PYTHONPATH": libraries,
                   "JUPYTER_CONFIG_PATH": str(image / "etc/jupyter")}  # fmt: skip
    ran = subprocess.run([sys.executable, "-S", "-c", STARTS], cwd=image / "home", env=environment, capture_output=True,
                         text=True, check=True)  # fmt: skip
    said = json.loads(ran.stdout.splitlines()[-1])
    assert said.pop("lessons") == len(list((ROOT / "lessons").glob("[0-9][0-9]_*.ipynb"))) > 20
    assert said.pop("options") > 5
    assert {"jupyter_server_config.json", "nbgrader_config.json"} <= set(said.pop("settings"))
    assert said == {"from": str(image / "site"), "keys": [], "page": True, "kernel": "-c"}


def test_its_pictures_lie_where_its_servers_look() -> None:
    *_, module, folder = STEPS["RUN mkdir"].split()
    assert module == figures.__name__
    assert f"{kept.FOLDER}={folder}" in STEPS["ENV"].split()
    assert RECIPE.index("RUN mkdir") < RECIPE.index("USER 1000")  # by root: nobody who works in it can change them
