"""The files for more than one machine: read as data, as far as can be without a cluster or a container engine."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from grading.hub import settings, welcome
from grading.hub.school import user_of
from lessons.jupyter import from_instructor, on_hub

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
