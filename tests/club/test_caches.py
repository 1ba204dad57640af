"""What is remembered is bounded by the bytes that it takes, lets go of what was only needed to find it, and is small in all."""

import gc
import sys
import weakref
from pathlib import Path

from club.caches import KNOWN, MIB, is_remembered, remembered, size_of

ROOT = Path(__file__).resolve().parents[2]


class Large:
    """Something that rides along."""


def test_a_size_counts_everything_once() -> None:
    text = "x" * 1000
    assert size_of([text, text]) < 2 * sys.getsizeof(text)
    assert size_of([text, "y" * 1000]) > 2 * 1000
    assert size_of({"a": [{"b": "z" * 5000}]}) > 5000
    assert size_of(None) > 0
    assert size_of(Large) == 1, "a class belongs to nobody"


def test_it_remembers_by_bytes_and_keeps_only_key_and_answer() -> None:
    asked = []

    @remembered(most_bytes=4000, key=lambda number, large: number)
    def answer(number: int, large: Large) -> str:
        asked.append(number)
        return str(number) * 1000

    try:
        large = Large()
        assert not is_remembered(answer, 1, large)
        assert asked == []
        gone = weakref.ref(large)
        assert answer(1, large) == answer(1, large) == "1" * 1000
        assert asked == [1]
        assert is_remembered(answer, 1, large)
        assert not is_remembered(answer, 2, large)
        del large
        gc.collect()
        assert gone() is None
        for number in (2, 3, 4, 1):
            answer(number, Large())
        assert asked == [1, 2, 3, 4, 1], "the one that was not asked for longest has gone"
        assert KNOWN[-1].cache.currsize <= 4000
    finally:
        KNOWN.pop()


def test_what_is_larger_than_a_cache_is_answered_and_not_kept() -> None:
    @remembered(most_bytes=1000, key=lambda number: number)
    def answer(number: int) -> str:
        return str(number) * 2000

    try:
        assert answer(1) == answer(1) == "1" * 2000
        assert not is_remembered(answer, 1)
        assert len(KNOWN[-1].cache) == 0
    finally:
        KNOWN.pop()


def test_all_of_them_together_are_small() -> None:
    from drills import bridge
    from drills.game import fits
    from drills.pages import library
    from sessions.pages import tape
    from sessions.pages.pitch import along, rungs
    from sessions.pages.sheet import parts
    from sessions.pages.stations import plans
    from sessions.planning.layout import evening
    from sessions.proposals.queries import ways
    from sessions.queries import kit_and_headers

    modules = {
        module.__name__
        for module in (
            bridge,
            fits,
            plans,
            rungs,
            ways,
            parts,
            library,
            evening,
            kit_and_headers,
            along,
            tape,
        )
    }
    modules.add("drills.game.bibs.recoloured")  # the package gives its name to a function
    assert {known.name.rpartition(".")[0] for known in KNOWN} == modules
    web = [known.cache.maxsize for known in KNOWN if known.name.rpartition(".")[0] != ways.__name__]
    assert sum(web) <= 66 * MIB
