import math
import subprocess
import sys
from dataclasses import replace

import pytest

from sessions.planning.assemble import Offer, PartWish, Pin, Progress, Request, Way, assemble, unfinished
from tests.sessions.planning.assemble.libraries import PARTS, library, request

OFFERS = library(3, 150, sizes=4)
SHORT = {"parts": PARTS[1:4], "minutes": 55}
PLAIN = request(**SHORT)


def test_a_session_says_why_each_part_is_there_and_when() -> None:
    proposal = assemble(PLAIN, OFFERS, seconds=10)
    assert proposal.proven
    assert proposal.gap == 0.0
    assert proposal.clash == ()
    assert [part.key for part in proposal.parts] == ["warm-up", "first practice", "second practice"]
    clock = 0
    for part in proposal.parts:
        clock += part.changeover_minutes
        assert part.starts_min == clock
        clock += part.minutes
        assert "part_runs" in {reason.code for reason in part.reasons}
    assert proposal.session is not None
    assert proposal.session.minutes == clock + PLAIN.clear_minutes <= 55
    assert proposal.session.load_au <= 330


def test_two_alternatives_play_other_drills_in_half_of_the_parts() -> None:
    proposal = assemble(PLAIN, OFFERS, seconds=10)
    every = [{part.offer.drill for part in s.parts} for s in (proposal.session, *proposal.alternatives)]
    assert len(every) == 3
    assert all(len(every[b] - every[a]) >= 2 for a in range(3) for b in range(a + 1, 3))
    assert all(s.objective <= proposal.objective for s in proposal.alternatives)


def test_what_could_stand_instead_can_be_pinned() -> None:
    proposal = assemble(PLAIN, OFFERS, seconds=10, alternatives=0)
    other = next(offer for offer in OFFERS if offer.key == proposal.parts[1].instead[0])
    pinned = replace(PLAIN, pins=(Pin("first practice", other.drill, other.variation),))
    again = assemble(pinned, OFFERS, seconds=10, alternatives=0)
    assert again.parts[1].offer == other
    assert again.parts[1].pinned
    assert again.parts[1].reasons[0].text == "Stays, as you said."
    assert again.objective <= proposal.objective


def test_an_empty_library_says_what_is_missing() -> None:
    proposal = assemble(PLAIN, (), seconds=1)
    assert proposal.parts == ()
    assert proposal.clash == ("part:warm-up",)
    assert [reason.part for reason in proposal.reasons] == ["warm-up", "first practice", "second practice"]


@pytest.mark.parametrize(
    ("changed", "clash"),
    [
        ({"minutes": 5}, ("minutes",)),
        ({"load_au": 0}, ("load",)),
        ({"players": 3}, ("turn_out",)),
        ({"length_m": 2}, ("space",)),
        ({"hardest_cr10": 0}, ("hardest",)),
        ({"pins": (Pin("first practice", "retired"),)}, ("pin:first practice",)),
        ({"pins": (Pin("first practice", "drill 3"), Pin("second practice", "drill 3"))}, None),
    ],
)
def test_what_cannot_be_done_names_its_limits_and_what_would_do(changed: dict, clash: tuple | None) -> None:
    asked = request(**(SHORT | {"kit": None} | changed))
    proposal = assemble(asked, OFFERS, seconds=10)
    assert proposal.proven
    assert proposal.parts == ()
    assert proposal.clash == (clash or ("once", "pin:first practice", "pin:second practice"))
    assert proposal.clash_smallest
    assert len(proposal.reasons) == len(proposal.clash)
    for name in proposal.clears:
        assert assemble(asked.without(name), OFFERS, seconds=10, alternatives=0).parts


def test_the_amount_that_is_said_to_do_does_and_one_less_does_not() -> None:
    enough = assemble(request(**SHORT, load_au=0), OFFERS, seconds=10).clears["load"]
    assert assemble(request(**SHORT, load_au=enough), OFFERS, seconds=10, alternatives=0).parts
    assert not assemble(request(**SHORT, load_au=enough - 0.1), OFFERS, seconds=10, alternatives=0).parts


def test_a_session_that_was_found_before_there_was_a_bound_has_no_gap() -> None:
    found = replace(assemble(PLAIN, OFFERS, seconds=10), proven=False, bound=float("inf"))
    assert found.parts
    assert found.gap is None
    assert [each.code for each in unfinished(found.session, found.gap)] == ["not_compared"]


def test_without_enough_time_the_best_so_far_is_said_to_be_unproven() -> None:
    proposal = assemble(request(), library(1, 2500), seconds=0.01)
    assert not proposal.proven
    assert proposal.parts
    assert proposal.gap > 0
    assert proposal.alternatives == ()
    assert proposal.reasons[0].code == "not_proven"


def test_a_search_that_ended_before_there_was_a_bound_says_no_figure() -> None:
    found = assemble(request(), OFFERS, seconds=10)
    stopped = replace(found, proven=False, bound=math.inf)
    assert stopped.gap is None
    assert [each.code for each in unfinished(stopped.session, stopped.gap)] == ["not_compared"]


def test_the_watcher_is_told_and_may_stop() -> None:
    seen: list[Progress] = []

    def watch(progress: Progress) -> bool:
        seen.append(progress)
        return False

    proposal = assemble(request(), OFFERS, seconds=10, watch=watch)
    assert len(seen) == 1
    assert seen[0].score <= seen[0].bound
    assert not proposal.proven


def test_the_same_request_gives_the_same_session() -> None:
    assert assemble(PLAIN, OFFERS, seconds=10) == assemble(PLAIN, OFFERS, seconds=10)


def test_impossible_input_names_its_field() -> None:
    way = Way(14, "7v7", 30, 20)
    with pytest.raises(ValueError, match="minutes"):
        replace(PLAIN, minutes=-1)
    with pytest.raises(ValueError, match="pins"):
        replace(PLAIN, pins=(Pin("tea"),))
    with pytest.raises(ValueError, match="effort_cr10"):
        Offer("a", "a", "A", frozenset({"game"}), 14, (way,))
    with pytest.raises(ValueError, match="most_minutes"):
        PartWish("a", "game", 20, 10)
    with pytest.raises(ValueError, match="library"):
        assemble(PLAIN, (OFFERS[0], OFFERS[0]), seconds=1)
    with pytest.raises(ValueError, match="waived"):
        Request.without(PLAIN, "gravity")


def test_the_solver_is_imported_only_when_it_is_used() -> None:
    code = (
        "import sys; sys.modules['django'] = None\n"
        "import sessions.planning.assemble, sessions.planning.layout\n"
        "assert 'ortools' not in sys.modules and 'numpy' not in sys.modules\n"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
