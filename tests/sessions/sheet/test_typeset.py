"""The process that sets a sheet: it leaves nothing behind, and one that hangs, dies or eats ends without hurting anybody."""

import subprocess
import sys
from pathlib import Path

import pytest

from sessions.sheet import typeset as module
from sessions.sheet.typeset import ROOT, NotTypeset, Order, typeset

HELLO = Order("a.typ", {"a.typ": b"Hello"}, "pdf", stamp=1_780_000_000)


def test_it_sets_pdf_and_pictures() -> None:
    assert typeset(HELLO)[0].startswith(b"%PDF")
    assert [each[:4] for each in typeset(Order("a.typ", {"a.typ": b"A #pagebreak() B"}, "png"))] == [
        b"\x89PNG"
    ] * 2


def test_only_the_process_of_its_own_loads_the_typesetter() -> None:
    """In the process that answers pages it kept 10 MB for each new sheet."""
    asked = "from tests.sessions.sheet.test_typeset import *; typeset(HELLO); print('typst' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", asked], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
    loading = [
        path.name
        for path in Path(ROOT).glob("[bcds]*/**/*.py")
        if "tests" not in path.parts and "import typst" in path.read_text(encoding="utf-8")
    ]
    assert loading == ["typesetter.py"]


@pytest.mark.parametrize(
    "program",
    ["import time; time.sleep(60)", "import os; os.kill(os.getpid(), 9)", "print('nonsense')"],
    ids=["hangs", "dies", "babbles"],
)
def test_a_process_that_fails_says_so_and_gives_its_place_back(
    program: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "PATIENCE_S", 0.5)
    for _ in range(module.AT_ONCE + 1):
        with pytest.raises(NotTypeset):
            typeset(HELLO, [sys.executable, "-c", program])
    monkeypatch.setattr(module, "PATIENCE_S", 50.0)
    assert typeset(HELLO)


def test_what_cannot_be_read_and_what_takes_too_much_is_said() -> None:
    with pytest.raises(NotTypeset, match="no-such-file"):
        typeset(Order("a.typ", {"a.typ": b'#read("no-such-file")'}, "pdf"))
    greedy = b'#let three_gigabytes = "x" * 3000000000'
    with pytest.raises(NotTypeset):
        typeset(Order("a.typ", {"a.typ": greedy}, "pdf"))


def test_nobody_waits_for_a_place_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE_S", 0.05)
    for _ in range(module.AT_ONCE):
        assert module._places.acquire(blocking=False)
    try:
        with pytest.raises(NotTypeset, match="too many"):
            typeset(HELLO)
    finally:
        for _ in range(module.AT_ONCE):
            module._places.release()
