"""The games of the youngest: what Fit answers six to fourteen of them, and what "Suggest a session" does with it.

What a coach would do is common practice, no source; the adults to a grid and the sides are those of `drills/game/fit/rules.py`.
"""

import msgspec
import pytest

from club import queries as club
from club.models import User
from drills.game.document.choices import Heading
from drills.game.evening import Evening, Piece, one_year
from drills.game.fits import Fits, fits
from sessions import queries
from sessions.models import Computation, TrainingSession
from sessions.planning.assemble.request import PART_FLOOR, SESSION_FLOOR
from sessions.proposals import actions
from sessions.proposals.queries import wish_for
from sessions.proposals.wish import WishedPart
from tests.bibrack.demo.documents import demo_document

COACH = "coach.young@demo.example"
GAMES = ("bears-to-bed", "shells-ashore")
RUNGS = [
    (slug, rung) for slug in GAMES for rung in ("", *(each.key for each in demo_document(slug).variations))
]
PADDOCK = Piece("paddock", 34, 22)  # two pitches of the U7 side by side, open all round
CAGE = Piece("cage", 40, 30, "fence", "fence", "group", "fence")
# Under so many, players a side in their matches, on what they train.
TEAMS = {"U7": (7, 3, PADDOCK), "U8": (8, 5, CAGE)}
COACHED = {6: "3v3", 8: "2 × 2v2", 9: "3v2 and 2v2", 10: "2 × 3v2", 11: "3v3 and 3v2", 12: "2 × 3v3"}


def answers(slug: str, rung: str, team: str, players: int, adults: int) -> Fits:
    under, a_side, piece = TEAMS[team]
    return fits(demo_document(slug), rung, Evening(players, None, adults, one_year(under, a_side), (piece,)))


@pytest.mark.parametrize("slug", GAMES)
@pytest.mark.parametrize("team", TEAMS)
def test_numbers_are_a_coachs(slug: str, team: str) -> None:
    assert {players: answers(slug, "", team, players, adults=2)[0].numbers for players in COACHED} == COACHED


@pytest.mark.parametrize(("slug", "rung"), RUNGS)
@pytest.mark.parametrize("team", TEAMS)
@pytest.mark.parametrize("adults", [1, 2])
def test_everybody_plays_in_games_that_are_alike(slug: str, rung: str, team: str, adults: int) -> None:
    for players in range(6, 15):
        first = answers(slug, rung, team, players, adults)[0]
        here = [each.players for each in first.grid_formats]
        assert (sum(here), first.waiting) == (players, 0)
        assert max(here) - min(here) <= 1
        assert max(side.players for each in first.grid_formats for side in each.sides) <= TEAMS[team][1]
        assert len(here) <= 2 * adults
        assert max(each.neutrals for each in first.grid_formats) <= 1


@pytest.mark.parametrize("slug", GAMES)
def test_nobody_heads_keeps_goal_or_stands_in_line(slug: str) -> None:
    document = demo_document(slug)
    assert document.heading is Heading.NONE
    assert document.queue is None
    assert not any(each.keeper for each in document.goals)
    assert {each.place.value for each in document.groups} == {"inside"}


def suggested(label: str) -> Computation:
    """A whole session in the club's order of parts, on the team's own ground and with its own adults."""
    public_id = TrainingSession.objects.filter(age_group__label=label).latest("day").public_id
    session = queries.session_by_id(public_id)
    assert session is not None
    order = tuple(WishedPart(kind=kind) for kind in club.club_settings().part_order)
    wish = msgspec.structs.replace(wish_for(session, keep=()), parts=order)
    assert (wish.adults, wish.players) == (3, {"U7": 10, "U8": 12}[label])
    actor = club.actor_of(User.objects.get(email=COACH))
    row = actions.ask_for_proposal(actor=actor, wish=wish, session=session)
    assert actions.work_out_proposal(public_id=str(row.public_id)) == "done"
    row.refresh_from_db()
    return row


@pytest.mark.parametrize(("label", "numbers"), [("U7", {"2 × 3v2", "2 × 2v2+1"}), ("U8", {"3 × 2v2"})])
def test_a_suggested_session_has_a_game_in_which_nobody_watches(
    demo_database: str, label: str, numbers: set[str]
) -> None:
    session = suggested(label).result["session"]
    assert session is not None
    parts = session["parts"]
    assert [each["kind"] for each in parts] == ["arrival", "warm-up", "practice", "game"]
    game = parts[-1]
    assert game["title"].partition(":")[0] in {demo_document(each).title for each in GAMES}
    assert game["numbers"] in numbers  # four or five children to a ball
    assert game["playing_share"] == 1
    assert min(each["playing_share"] for each in parts) >= PART_FLOOR
    minutes = sum(each["minutes"] for each in parts)
    assert sum(each["playing_share"] * each["minutes"] for each in parts) / minutes >= SESSION_FLOOR
