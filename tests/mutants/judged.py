"""What was thought of mutants that survived: `judged.toml`, a word and a reason each, found by the mutant's name and change."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from tests.mutants.mutants import all_of
from tests.mutants.rooms import files

LIST = Path("tests/mutants/judged.toml")
WORDS = {
    "equivalent": "nobody can tell the two apart",
    "not worth": "can be told apart, but no test should",
    "browser": "a journey in the browser tells them apart",
    "missing": "a test should tell them apart, and none does yet",
}


@dataclass(frozen=True, slots=True)
class Judgement:
    """A word of WORDS, and why."""

    word: str
    why: str


def judgements(root: Path) -> dict[tuple[str, str], Judgement]:
    """By name and changed lines; a change that reads otherwise is judged anew. ValueError for a judgement without a word or reason."""
    found = {}
    for each in tomllib.loads((root / LIST).read_text(encoding="utf-8")).get("judged", []):
        if each["word"] not in WORDS or not each["why"]:
            raise ValueError(f"{LIST}: {each['mutant']}: no word of {', '.join(WORDS)}, or no reason")
        found[each["mutant"], spaceless(each["diff"])] = Judgement(each["word"], each["why"])
    return found


def gone(root: Path) -> list[str]:
    """Names of those that can't be made of the source any more, or read otherwise: their judgement may go."""
    known = judgements(root)
    made = {
        (each.name, spaceless(each.diff((root / path).read_bytes())))
        for path, room in files(root).items()
        if any(name.startswith(f"{path} ") for name, _diff in known)
        for each in all_of(root, path, room)
    }
    return sorted(name for name, diff in known if (name, diff) not in made)


def spaceless(diff: str) -> str:
    """A diff without where it stands and how it is spaced."""
    return "".join("".join(line.split()) for line in diff.splitlines() if not line.startswith("@@"))
