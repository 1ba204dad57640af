"""Documents for developers name what exists, can be read in one go, and speak of the version that this is."""

import re
import tomllib
from pathlib import Path

import pytest

from bibrack.pages import our_library

ROOT = Path(__file__).resolve().parents[2]
NAMED = re.compile(r"`([\w./-]{1,120}(?:/|\.(?:py|js|json|md|yaml|toml)))(?::[^`]{1,80})?`")
ROOTS = ("bibrack", "club", "drills", "sessions", "tests", "templates", "docs", "docker", ".ci")
MOST_LINES, LONGEST = 200, 160


def there() -> set[str]:
    """Every file and folder of ours, with a slash on either side."""
    found = [path for root in ROOTS for path in (ROOT / root).rglob("*")]
    found += [*ROOT.glob("*"), *(ROOT / root for root in ROOTS)]
    return {f"/{path.relative_to(ROOT).as_posix()}/" for path in found}


@pytest.mark.parametrize(
    "name", ["DEVELOPERS.md", "docs/decisions.md", "docs/security.md", "docs/changes.md"]
)
def test_what_a_document_names_exists(name: str) -> None:
    known = there()
    named = set(NAMED.findall((ROOT / name).read_text(encoding="utf-8")))
    # `make pictures` makes that folder.
    missing = {
        each
        for each in named - {"pictures/"}
        if not any(path.endswith(f"/{each.strip('/')}/") for path in known)
    }
    assert missing == set()


def test_the_first_document_is_read_in_one_go() -> None:
    lines = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()
    assert len(lines) <= MOST_LINES
    assert [number for number, line in enumerate(lines, 1) if len(line) > LONGEST] == []


def test_what_is_new_begins_with_this_version() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    headings = re.findall(
        r"^## ([0-9.]{1,20})", (ROOT / "docs/changes.md").read_text(encoding="utf-8"), re.MULTILINE
    )
    assert headings[0] == project["version"].split(".dev")[0]


def test_what_is_told_of_the_first_library_is_what_it_holds() -> None:
    ours = our_library()
    told = {name: (ROOT / name).read_text(encoding="utf-8") for name in ("README.md", "docs/changes.md")}
    assert f"{ours.drills} drills and {ours.ready} ready sessions" in told["docs/changes.md"]
    for text in told.values():
        assert f"for each of {ours.themes} themes" in re.sub(r"\s+", " ", text)
    assert ours.ready == 3 * ours.themes
