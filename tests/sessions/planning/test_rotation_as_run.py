"""Minutes in play as a part was run: what all players were in play together is what its places in play held."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sessions.planning.account import PartAccount, account
from sessions.planning.fold.state import DeliveryState, PartState, PresenceSpell, RegisterLine
from sessions.planning.plan import PlannedPart, SessionPlan
from sessions.planning.rotation import PeopleRotation, TeamPlaces, rotate_people
from sessions.planning.rotation.as_run import PartPlayed, Round, in_play, most_there, rounds_run
from sessions.planning.rotation.tonight import OUTSIDE

STARTS = datetime(2026, 3, 3, 18, tzinfo=UTC)
HERE = RegisterLine(state="here", spells=(PresenceSpell(),))


def cost_of(part: PlannedPart, *, share: float = 1.0, minutes: float | None = None) -> PartAccount:
    bouts = min(part.bouts, -int(-part.bouts * share // 1)) if share else 0
    return PartAccount(
        part.key, "", "clock", part.minutes if minutes is None else minutes, 0.0, 0, share, bouts, part.cr10
    )


def turns_of(players: int, inside: int, outside: int, bouts: int) -> PeopleRotation:
    half = inside // 2
    teams = [TeamPlaces("red", half), TeamPlaces("blue", inside - half)]
    if outside:
        teams.append(TeamPlaces("yellow", outside, OUTSIDE))
    names = [f"p{number}" for number in range(players)]
    return rotate_people(teams=teams, players=names, bouts=bouts, bout_min=4.0)


def played(rotation: PeopleRotation, rounds: tuple[Round, ...]) -> PartPlayed:
    return PartPlayed("a", rounds, "turns", {each.number: each for each in rotation.bouts})


@given(
    inside=st.integers(2, 8),
    outside=st.sampled_from([0, 0, 2, 4]),
    more=st.integers(0, 5),
    bouts=st.integers(1, 6),
    share=st.floats(0.05, 1.5),
    held=st.floats(0, 10),
)
def test_what_all_were_in_play_is_rounds_times_places(
    inside: int, outside: int, more: int, bouts: int, share: float, held: float
) -> None:
    """Everybody there all the time: minutes in play come to minutes of play × places, whatever the order of turns."""
    part = PlannedPart("a", minutes=bouts * 5.0, cr10=5.0, bouts=bouts, bout_s=240, rest_s=60)
    cost = cost_of(part, share=share, minutes=part.minutes * share + held)
    rounds = rounds_run(part, cost, STARTS)
    rotation = turns_of(inside + outside + more, inside, outside, bouts)
    found = in_play([played(rotation, rounds)], dict.fromkeys(rotation.names, HERE))
    play_min = sum(each.play_s for each in rounds) / 60
    assert play_min == pytest.approx(bouts * 4.0 * share)
    assert sum(each.in_play_min for each in found.values()) == pytest.approx(play_min * (inside + outside))
    for each in found.values():
        assert each.present_min == pytest.approx(play_min)
        assert each.share is not None
        assert 0 <= each.share <= 1


@given(came=st.floats(0, 30), stays=st.floats(0, 40), gap=st.floats(0, 10))
def test_nobody_is_in_play_longer_than_they_were_there(came: float, stays: float, gap: float) -> None:
    """Oracle: the same seconds one by one."""
    part = PlannedPart("a", minutes=29.0, cr10=5.0, bouts=5, bout_s=300, rest_s=60)
    rounds = rounds_run(part, cost_of(part), STARTS)
    rotation = turns_of(10, 8, 0, 5)
    first, last = round(came * 60), round((came + stays) * 60)
    pause = last + round(gap * 60)
    line = RegisterLine(
        state="left",
        spells=(
            PresenceSpell(starts_at=at(first), ends_at=at(last)),
            PresenceSpell(starts_at=at(last), ends_at=at(pause), taking_part=False),
        ),
    )
    found = in_play([played(rotation, rounds)], {"p0": line})["p0"]
    seconds = {"inside": 0, "waiting": 0}
    for each in rounds:
        place = next(bout for bout in rotation.bouts if bout.number == each.number).place_of("p0")[0]
        begins = round((each.starts_at - STARTS).total_seconds())
        seconds[place] += sum(first <= begins + second < last for second in range(300))
    assert found.in_play_min == pytest.approx(seconds["inside"] / 60, abs=0.02)
    assert found.waiting_min == pytest.approx(seconds["waiting"] / 60, abs=0.02)
    assert found.share is None or found.share <= 1


def at(second: int) -> datetime:
    return STARTS + timedelta(seconds=second)


def test_where_nobody_was_off_all_who_were_there_played() -> None:
    part = PlannedPart("a", minutes=12.0, cr10=5.0, bouts=2, bout_s=300, rest_s=60)
    rounds = rounds_run(part, cost_of(part), STARTS)
    everybody = PartPlayed("a", rounds, "everybody", {})
    late = RegisterLine(state="late", spells=(PresenceSpell(starts_at=STARTS + timedelta(minutes=6)),))
    limited = RegisterLine(state="here", taking="limited", at_most_min=4, spells=(PresenceSpell(),))
    away = RegisterLine(state="absent")
    found = in_play([everybody], {"all": HERE, "late": late, "limited": limited, "away": away})
    assert {name: (each.in_play_min, each.share) for name, each in found.items()} == {
        "all": (10.0, 1.0),
        "late": (5.0, 1.0),
        "limited": (0.0, None),  # some four minutes of it: which is not known
        "away": (0.0, None),
    }
    assert most_there(rounds, {"all": HERE, "late": late, "away": away}) == 2


def test_of_a_part_that_nobody_knows_of_nothing_is_said() -> None:
    part = PlannedPart("a", minutes=12.0, cr10=5.0, bouts=2, bout_s=300, rest_s=60)
    rounds = rounds_run(part, cost_of(part), STARTS)
    unknown = PartPlayed("a", rounds, "not_known", {})
    assert in_play([unknown], {"p0": HERE})["p0"].share is None
    rotation = turns_of(4, 4, 0, 2)
    found = in_play([played(rotation, rounds), unknown], {"p0": HERE, "a guest": HERE})
    assert (found["p0"].present_min, found["p0"].share) == (10.0, 1.0)
    assert found["a guest"].share is None  # in no place of the turns


def test_rounds_are_those_that_the_account_counts() -> None:
    """Two of three rounds begun, the second cut short; a round that was never begun is none."""
    part = PlannedPart("a", minutes=14.0, cr10=5.0, bouts=3, bout_s=240, rest_s=60)
    state = DeliveryState(
        status="shortened",
        reason=None,
        moved_to=None,
        starts_at=STARTS,
        minutes_delivered=7.0,
        register={},
        guests=(),
        ratings=(),
        notes=(),
        parts=(PartState(key="a", started_at=STARTS, ended_at=STARTS + timedelta(minutes=7)),),
    )
    cost = account(SessionPlan(20.0, (part,), STARTS), state).part("a")
    rounds = rounds_run(part, cost, STARTS)
    assert [(each.number, round(each.play_s)) for each in rounds] == [(1, 240), (2, 120)]
    assert rounds[1].starts_at == STARTS + timedelta(minutes=5)
