"""How much each wish counts for the club, and what coaches noted after running a drill: both reach the solver."""

from typing import Any

import pytest

from club.errors import Refused, Stale
from club.queries import actor_of
from drills import actions as drills
from drills.queries import how_it_went
from sessions.models import ProposalWeights
from sessions.planning.assemble import WishWeights
from sessions.planning.assemble.library import rating_of
from sessions.planning.assemble.options import UNRATED
from sessions.proposals import actions
from sessions.proposals.queries import Shelf, request_of
from sessions.proposals.wish import wish_from
from tests.people import World, signed_in
from tests.sessions.api.test_sessions_api import client_of, pointers
from tests.sessions.proposing.evening import asked, evening, library, titles, wished, worked_out

pytestmark = pytest.mark.django_db
API = "/api/v1/proposal-weights/"


def weights_asked(world: World, session: Any) -> WishWeights:
    return request_of(wish_from(asked(world, session, instead=True).request), {}).weights


def test_what_the_director_says_is_what_the_solver_counts_with(world: World) -> None:
    session, usual = evening(world), WishWeights()
    assert weights_asked(world, session) == usual
    before = asked(world, session)
    said = {"theme": "lot", "playing": "little", "moves": "none"}
    actions.weigh_proposals(version=1, **said)
    found = weights_asked(world, session)
    assert (found.theme, found.playing, found.moves) == (2 * usual.theme, usual.playing / 2, 0)
    assert (found.last_week, found.rating, found.effort) == (usual.last_week, usual.rating, usual.effort)
    # Asked under other weights it is another question; what was asked before keeps its own.
    before.refresh_from_db()
    assert (before.state, before.request["weights"]["theme"]) == ("cancelled", "usual")


def test_a_stale_save_and_unknown_words_change_nothing(world: World) -> None:
    actions.weigh_proposals(version=1, theme="lot")
    with pytest.raises(Stale):
        actions.weigh_proposals(version=1, theme="none")
    with pytest.raises(Refused):
        actions.weigh_proposals(version=2, theme="twice", fit="none")
    assert ProposalWeights.objects.get().words["theme"] == "lot"


def test_the_page_is_the_directors_to_fill_in_and_the_coaches_to_read(world: World) -> None:
    director, coach = signed_in(world.people.director), signed_in(world.people.coach)
    words = dict.fromkeys(ProposalWeights.WISHES, "usual")
    sent = {**words, "effort": "lot", "version": "1"}
    assert director.post("/sessions/weights/change/", sent).status_code == 302
    assert "Effort that rises, then falls: a lot" in coach.get("/sessions/weights/").content.decode()
    page = director.get("/sessions/weights/").context["form"]
    assert (page["effort"].value(), page["version"].value()) == ("lot", 2)
    stale = director.post("/sessions/weights/change/", {**sent, "effort": "none"})
    assert (stale.status_code, "Somebody else" in stale.content.decode()) == (400, True)
    assert stale.context["form"]["effort"].value() == "none"


def test_the_api_reads_and_changes_them_by_version(world: World) -> None:
    api = client_of(world.people.director)
    first = api.get(API)
    assert (first["ETag"], first.json()["theme"]) == ('"v1"', "usual")
    changed = api.patch(API, {"rating": "none"}, format="json", headers={"If-Match": first["ETag"]})
    assert (changed["ETag"], changed.json()["rating"], changed.json()["theme"]) == ('"v2"', "none", "usual")
    again = api.patch(API, {"rating": "lot"}, format="json", headers={"If-Match": first["ETag"]})
    assert again.status_code == 412
    wrong = api.patch(API, {"rating": "7"}, format="json", headers={"If-Match": changed["ETag"]})
    assert (wrong.status_code, list(pointers(wrong))) == (400, ["/rating"])


def note(world: World, who: Any, drill: Any, worked: str) -> None:
    drills.note_after_use(actor=actor_of(who), public_id=drill.public_id, text="Ran it.", worked=worked)


def test_the_last_word_of_each_coach_is_the_rating(world: World) -> None:
    made, session, people = library(world), evening(world), world.people
    keepers, run = made["Lamp Keepers"], made["Harbour Run"]
    for who, worked in (
        (people.coach, "no"),
        (people.coach, "yes"),
        (people.director, "no"),
        (people.helper, ""),
    ):
        note(world, who, keepers, worked)
    assert how_it_went([keepers.public_id, run.public_id]) == {keepers.public_id: (1, 2)}
    offers = {each.title: each for each in Shelf(actor_of(people.coach), wished(session), (12, 12)).fitted()}
    assert (offers["Lamp Keepers"].heard, offers["Lamp Keepers"].rating) == ((1, 2), 0.5)
    assert offers["Harbour Run"].rating is None
    part = worked_out(world, session).result["session"]["parts"][1]
    told = {each["code"]: dict(each["values"]) for each in part["reasons"]}
    assert (part["title"], told["part_rated"]) == ("Lamp Keepers", {"worked": 1, "tried": 2})


def test_between_two_alike_the_one_that_worked_is_taken(world: World) -> None:
    made, session = library(world), evening(world)
    assert titles(worked_out(world, session, themes=()))[1] == "Lamp Keepers"
    note(world, world.people.coach, made["Lamp Keepers"], "no")
    note(world, world.people.coach, made["Lamp Thieves"], "yes")
    actions.weigh_proposals(version=1, rating="lot", effort="none")
    assert titles(worked_out(world, session, themes=()))[1] == "Lamp Thieves"


def test_a_rating_begins_in_the_middle_and_nears_the_share() -> None:
    assert rating_of(0, 0) == UNRATED
    assert rating_of(1, 1) == pytest.approx(2 / 3)
    assert [round(rating_of(n * 3, n * 4), 2) for n in (1, 10, 100)] == [0.67, 0.74, 0.75]
    with pytest.raises(ValueError, match="tried"):
        rating_of(2, 1)
