"""`docker/pin-images` with a registry's answers made up: each tag gets its digest, twice changes nothing more."""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests.docker.test_compose import ROOT

FILES = ("docker-compose.yml", "Dockerfile", "docker/pin-images")
ANSWERS = """#!/bin/sh
[ "$1 $2 $3" = "buildx imagetools inspect" ] || exit 2
printf 'sha256:%s\\n' "$(printf %s "$4" | sha256sum | cut -d' ' -f1)"
"""


@pytest.fixture
def project(tmp_path: Path) -> Path:
    for name in FILES:
        (tmp_path / name).parent.mkdir(exist_ok=True)
        shutil.copy(ROOT / name, tmp_path / name)
    return tmp_path


def pin(project: Path, docker: str) -> subprocess.CompletedProcess[str]:
    program = project / "bin" / "docker"
    program.parent.mkdir(exist_ok=True)
    program.write_text(docker)
    program.chmod(0o755)
    path = f"{program.parent}:{os.environ['PATH']}"
    return subprocess.run(
        [project / "docker" / "pin-images"], env={"PATH": path}, capture_output=True, text=True, check=False
    )


def images(project: Path) -> list[str]:
    text = "".join((project / name).read_text() for name in FILES[:2])
    return re.findall(r"(?:image: *|^FROM )(\S+)", text, re.MULTILINE)


def test_each_tag_gets_its_digest_once(project: Path) -> None:
    before = images(project)
    assert pin(project, ANSWERS).returncode == 0
    pinned = images(project)
    assert [each.split("@")[0] for each in pinned] == [each.split("@")[0] for each in before]
    others = [each for each in pinned if not each.startswith("bibrack:")]
    assert len(others) == 4
    assert all(re.fullmatch(r"[a-z]+:[\w.-]+@sha256:[0-9a-f]{64}", each) for each in others)
    pin(project, ANSWERS)
    assert images(project) == pinned


@pytest.mark.parametrize("docker", ["#!/bin/sh\nexit 1\n", "#!/bin/sh\necho unknown\n"])
def test_without_an_answer_nothing_is_changed(project: Path, docker: str) -> None:
    before = [(project / name).read_text() for name in FILES]
    assert pin(project, docker).returncode != 0
    assert [(project / name).read_text() for name in FILES] == before
