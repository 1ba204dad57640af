"""Which tests a mutant meets, in which order, and what is recorded again after a change."""

from pathlib import Path

from tests.mutants.covered import Covered, digest, load, save
from tests.mutants.covered import test_files as files_of
from tests.mutants.faults import Fault
from tests.mutants.mutants import Mutant
from tests.mutants.trial import chosen

SOURCE = "sessions/access.py"
QUICK, SLOW, OTHER, FIXED = (
    f"tests/{name}" for name in ("a/test_a.py::test_q", "a/test_a.py::test_s", "b/test_b.py::test_o", "b/test_b.py::test_f")
)  # fmt: skip
COVERED = Covered(
    seconds={SLOW: 5.0, QUICK: 0.1, OTHER: 1.0, FIXED: 2.0},
    lines={
        QUICK: {SOURCE: [3, 4]},
        SLOW: {SOURCE: [4]},
        "tests/b/test_b.py::": {SOURCE: [9]},
        OTHER: {"else.py": [3]},
    },
)


def mutant(*lines: int, wider: range = range(0), function: str = "f") -> Mutant:
    return Mutant(
        SOURCE, "access", function, Fault("always", 0, 0, ""), 1, range(lines[0], lines[-1] + 1), wider
    )


def test_the_tests_of_a_line_and_of_a_fixture_of_the_whole_file() -> None:
    assert COVERED.tests_of(SOURCE, [3]) == {QUICK}
    assert COVERED.tests_of(SOURCE, [4]) == {QUICK, SLOW}
    assert COVERED.tests_of(SOURCE, [9]) == {OTHER, FIXED}
    assert COVERED.tests_of(SOURCE, [5]) == set()
    assert COVERED.tests_of_file(SOURCE) == set(COVERED.seconds)


def test_a_mutant_meets_the_quickest_of_each_file_first_and_as_many_as_time_allows() -> None:
    assert chosen(COVERED, mutant(4)) == ([QUICK, SLOW], 2)
    assert chosen(COVERED, mutant(4), budget_s=1.0) == ([QUICK], 2)
    assert chosen(COVERED, mutant(9), budget_s=0.5) == ([OTHER], 2)  # one at least
    assert chosen(COVERED, mutant(3, 9)) == ([OTHER, FIXED, QUICK, SLOW], 4)


def test_inside_a_long_statement_its_own_tests_count_and_on_import_those_of_the_file() -> None:
    assert chosen(COVERED, mutant(6, wider=range(3, 4))) == ([QUICK], 1)
    assert chosen(COVERED, mutant(6, wider=range(6, 7))) == ([], 0)
    assert chosen(COVERED, mutant(6, wider=range(6, 7), function=""))[1] == 4
    assert chosen(COVERED, mutant(6, wider=range(6, 7), function="Klass"))[1] == 4


def test_what_changed_is_recorded_again(tmp_path: Path) -> None:
    for name in (
        SOURCE,
        "club/access.py",
        "tests/a/test_a.py",
        "tests/b/test_b.py",
        "tests/browser/test_c.py",
    ):
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(name)
    names = ["tests/a/test_a.py", "tests/b/test_b.py"]
    assert files_of(tmp_path) == names
    assert Covered().outdated(tmp_path) == set(names)
    lines = {QUICK: {SOURCE: [3]}, OTHER: {"club/access.py": [1]}}
    now = {each: digest(tmp_path / each) for each in (*names, SOURCE, "club/access.py")}
    save(tmp_path, Covered(dict(COVERED.seconds), lines, now))
    kept = load(tmp_path)
    assert (kept.outdated(tmp_path), kept.lines) == (set(), lines)
    (tmp_path / SOURCE).write_text("changed")
    assert kept.outdated(tmp_path) == {"tests/a/test_a.py"}
    (tmp_path / "tests/b/test_b.py").write_text("changed")
    assert kept.outdated(tmp_path) == set(names)
    kept.forget({"tests/a/test_a.py"})
    assert (set(kept.seconds), set(kept.lines)) == ({OTHER, FIXED}, {OTHER})
