"""Beside a drill: its past, close at hand, notes after use, and the link that shows it without an account."""

import json
import re
from collections.abc import Callable
from datetime import timedelta

import pytest
import time_machine
from django.core.exceptions import PermissionDenied
from django.test import Client
from django.utils import timezone

from club import queries as club
from club.errors import Refused, Stale
from drills import actions, pages
from drills.models import Drill, DrillRevision, ShareLink
from tests.drills.people import People, acting
from tests.drills.samples import WHOLE

pytestmark = pytest.mark.django_db
Visitor = Callable[..., Client]


def revised(drill: Drill, people: People, **changes: object) -> Drill:
    return actions.revise_drill(
        actor=acting(people.coach),
        public_id=drill.public_id,
        version=drill.version,
        document={**WHOLE, **changes},
    )


def test_two_revisions_are_compared_and_one_is_restored(
    draft: Drill, people: People, visitor: Visitor
) -> None:
    fives = [{**each, "least": 5} for each in WHOLE["groups"]]
    revised(draft, people, title="Second", format="5v5+5", groups=fives)
    drill = revised(Drill.objects.get(), people, title="Third")
    client, url = visitor(people.coach), f"/library/{drill.public_id}/past/"
    html = client.get(f"{url}?first=1&second=2").content.decode()
    assert "Secret Draft" in html
    assert "5v5+5" in html
    assert client.get(f"{url}?first=1&second=9").status_code == 404
    answer = client.post(f"{url}1/restore/", {"version": drill.version})
    drill.refresh_from_db()
    assert (answer.status_code, drill.title, drill.format) == (302, "Secret Draft", "5v5+2in")
    notes = DrillRevision.objects.order_by("number").values_list("number", "note")
    assert list(notes) == [(1, ""), (2, ""), (3, ""), (4, "Revision 1 again.")]


def test_a_stale_restore_changes_nothing(draft: Drill, people: People) -> None:
    revised(draft, people, title="Second")
    with pytest.raises(Stale):
        actions.restore_revision(actor=acting(people.coach), public_id=draft.public_id, version=1, number=1)
    assert Drill.objects.get().title == "Second"


def test_favourites_are_ones_own(shared: Drill, people: People, visitor: Visitor) -> None:
    client, url = visitor(people.helper), f"/library/{shared.public_id}/"
    client.post(f"{url}favourite/", {"favourite": "1"})
    client.post(f"{url}favourite/", {"favourite": "1"})
    assert client.get("/library/?favourite=1").content.count(b'class="card"') == 1
    assert visitor(people.coach).get("/library/?favourite=1").content.count(b'class="card"') == 0
    assert ">Saved<" in client.get(url).content.decode()
    client.post(f"{url}favourite/", {"favourite": "0"})
    assert client.get("/library/?favourite=1").content.count(b'class="card"') == 0


def test_a_note_after_use_shows_on_the_drill(shared: Drill, people: People, visitor: Visitor) -> None:
    url = f"/library/{shared.public_id}/"
    visitor(people.helper).post(
        f"{url}notes/", {"text": " Grid too <long>. ", "players": "13", "worked": "no"}
    )
    html = visitor(people.other).get(url).content.decode()
    for said in (
        "Grid too &lt;long&gt;.",
        "with 13 players",
        "It did not work.",
        "No players' names or health details.",
    ):
        assert said in html
    note = shared.use_notes.get()
    drop = f"{url}notes/{note.public_id}/drop/"
    assert visitor(people.other).post(drop).status_code == 403
    assert visitor(people.helper).post(drop).status_code == 302
    assert shared.use_notes.count() == 0


@pytest.mark.parametrize(
    ("text", "players", "worked"),
    [
        *(("", "", ""), ("x" * 301, "", ""), ("fine", "0", ""), ("fine", "61", ""), ("fine", "many", "")),
        ("fine", "", "maybe"),
    ],
)
def test_a_note_that_says_nothing_is_refused(
    text: str, players: str, worked: str, shared: Drill, people: People
) -> None:
    with pytest.raises(Refused):
        actions.note_after_use(
            actor=acting(people.helper),
            public_id=shared.public_id,
            text=text,
            players=players,
            worked=worked,
        )
    assert shared.use_notes.count() == 0


def test_a_refused_note_stays_with_what_is_wrong_beside_it(
    shared: Drill, people: People, visitor: Visitor
) -> None:
    sent = {"text": "Grid too <long>.", "players": "lots"}
    html = visitor(people.helper).post(f"/library/{shared.public_id}/notes/", sent).content.decode()
    field = html.partition('id="after-players"')[2].partition("</div>")[0]
    assert 'value="lots"' in field
    assert "From 1 to 60 players." in field
    assert "\nGrid too &lt;long&gt;.</textarea>" in html


def test_the_lineage_is_told_both_ways_to_whom_it_may_be(
    shared: Drill, people: People, visitor: Visitor
) -> None:
    mine = actions.adapt_drill(actor=acting(people.other), public_id=shared.public_id, title="My gates")
    url = f"/library/{shared.public_id}/"
    assert (
        f'Adapted into <a href="/library/{mine.public_id}/">'
        in visitor(people.other).get(url).content.decode()
    )
    assert "Adapted into" not in visitor(people.coach).get(url).content.decode()


def opened(drill: Drill, people: People) -> str:
    return actions.share_drill(actor=acting(people.coach), public_id=drill.public_id, days="7")


def test_a_link_shows_one_drill_without_an_account_and_without_a_person(
    shared: Drill, people: People
) -> None:
    actions.note_after_use(actor=acting(people.helper), public_id=shared.public_id, text="Secret word")
    people.coach.name = "Odalys Penhallow"
    people.coach.save()
    secret = opened(shared, people)
    answer = Client().get(f"/library/shared/{secret}/")
    html = answer.content.decode()
    assert (answer.status_code, answer["X-Robots-Tag"]) == (200, "noindex, nofollow")
    assert (answer["Referrer-Policy"], answer["Cache-Control"]) == ("no-referrer", "private, no-store")
    assert "A pass through the lantern opens both goals." in html
    for hidden in ("Penhallow", "Secret word", "coach@club.example", str(shared.public_id)):
        assert hidden not in html
    assert secret not in ShareLink.objects.values_list("secret_hash", flat=True)


def test_linked_data_reads_as_json_and_can_not_end_its_script(people: People) -> None:
    from tests.drills.people import make

    drill = make(people.coach, purpose="</script><script>alert(1)</script>", under_to=None)
    html = Client().get(f"/library/shared/{opened(drill, people)}/").content.decode()
    found = re.search(r'ld\+json">(.*?)</script>', html)
    assert found is not None
    data = json.loads(found[1])
    # Types and properties as https://schema.org/HowTo and https://schema.org/LearningResource name them.
    assert data["@type"] == ["HowTo", "LearningResource"]
    assert data["description"] == "</script><script>alert(1)</script>"
    assert data["typicalAgeRange"] == "11-"
    assert data["step"][0] == {
        "@type": "HowToStep",
        "position": 1,
        "text": "A pass through the lantern opens both goals.",
    }
    assert data["totalTime"] == "PT20M"
    assert "<script>alert" not in html


def test_a_link_ends_when_taken_back_expired_or_the_drill_is_retired(shared: Drill, people: People) -> None:
    secret = opened(shared, people)
    address = f"/library/shared/{secret}/"
    assert Client().get(address).status_code == 200
    ShareLink.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    over = Client().get(address)
    assert (over.status_code, over["Cache-Control"]) == (404, "private, no-store")
    assert "Ask whoever sent it to you for a new one." in over.content.decode()
    ShareLink.objects.update(expires_at=timezone.now() + timedelta(days=1))
    actions.retire_drill(actor=acting(people.coach), public_id=shared.public_id)
    assert Client().get(address).status_code == 404
    actions.unretire_drill(actor=acting(people.coach), public_id=shared.public_id)
    assert Client().get(address).status_code == 200
    link = ShareLink.objects.get()
    with pytest.raises(PermissionDenied):
        actions.take_back_link(actor=acting(people.other), public_id=shared.public_id, link_id=link.public_id)
    actions.take_back_link(actor=acting(people.coach), public_id=shared.public_id, link_id=link.public_id)
    assert Client().get(address).status_code == 404


def test_a_link_opens_sixty_times_a_minute(shared: Drill, people: People) -> None:
    secret = opened(shared, people)
    with time_machine.travel("2031-03-03T18:00:05Z", tick=False):
        found = [club.asked_too_often(secret) for _ in range(62)]
    assert found == [False] * 60 + [True] * 2


def test_days_are_those_offered(shared: Drill, people: People) -> None:
    with pytest.raises(Refused):
        actions.share_drill(actor=acting(people.coach), public_id=shared.public_id, days="9999")
    assert ShareLink.objects.count() == 0


def test_the_link_is_shown_once(shared: Drill, people: People, visitor: Visitor) -> None:
    client, url = visitor(people.coach), f"/library/{shared.public_id}/"
    made = client.post(f"{url}share/", {"days": "30"}).content.decode()
    found = re.search(r"/library/shared/([\w-]+)/", made)
    assert found is not None
    assert Client().get(f"/library/shared/{found[1]}/").status_code == 200
    html = client.get(url).content.decode()
    assert found[1] not in html
    assert "1 link" in html
    assert "Show it to somebody" not in visitor(people.helper).get(url).content.decode()


def test_two_rungs_side_by_side(shared: Drill, people: People, visitor: Visitor) -> None:
    url = f"/library/{shared.public_id}/compare/"
    html = visitor(people.helper).get(f"{url}?first=eight&second=wide").content.decode()
    assert html.count("<svg") == 2
    for said in ("there are 8 seconds to score", "there are 12 seconds to score", "35 × 30 m", "25 × 20 m"):
        assert said in html
    assert "Scoring" not in html
    assert "Nothing differs." in visitor(people.helper).get(f"{url}?first=wide&second=wide").content.decode()
    assert visitor(people.helper).get(f"{url}?first=nowhere").status_code == 404


def test_every_field_that_differs_is_said_in_words(people: People) -> None:
    from tests.drills.samples import small, whole

    told = {each.label: each.after for each in pages.differences(small(), whole())}
    assert told["Groups"][0].startswith("reds: 5 inside")
    assert told["Balls"] == ["1 + 6 spare"]
    assert told["Kit"] == ["12 marker cones"]
    assert told["Zones"] == ["the middle"]
    assert told["Goals"] == ["west goal: mini goal", "east goal: mini goal"]


def test_notes_links_and_what_is_kept_close_over_the_api(people: People, shared: Drill, api, client) -> None:
    base = f"/api/v1/drills/{shared.public_id}/"
    helper, coach, other = api(people.helper), api(people.coach), api(people.other)
    assert helper.put(f"{base}favourite/").status_code == 204
    assert helper.post(f"{base}notes/", {"text": "", "players": 3}, format="json").status_code == 400
    assert helper.post(f"{base}notes/", {"text": "x", "players": "many"}, format="json").status_code == 400
    said = helper.post(f"{base}notes/", {"text": "Grid too long.", "players": 13}, format="json").json()
    note = said["results"][0]
    assert (said["count"], note["text"], note["players"], note["may_drop"]) == (1, "Grid too long.", 13, True)
    assert other.delete(f"{base}notes/{note['id']}/").status_code == 403
    assert helper.delete(f"{base}notes/{note['id']}/").status_code == 204
    assert helper.get(f"{base}notes/").json() == {"count": 0, "results": []}
    assert coach.post(f"{base}links/", {"days": 4000}, format="json").status_code == 400
    made = coach.post(f"{base}links/", {"days": 7}, format="json")
    assert (made.status_code, made["Cache-Control"]) == (201, "private, no-store")
    address = made.json()["address"]
    assert client.get(address).status_code == 200
    assert other.get(f"{base}links/").json()["count"] == 0  # another coach may not even know
    links = coach.get(f"{base}links/").json()
    assert links["count"] == 1
    assert address.split("/")[-2] not in str(links)  # the secret is told once
    assert coach.delete(f"{base}links/{links['results'][0]['id']}/").status_code == 204
    assert client.get(address).status_code == 404
