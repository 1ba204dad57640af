"""The pages in a browser's eyes: what they say, how much they ask of the database, how a stale save goes."""

import re
from collections.abc import Callable

import pytest
from django.test import Client

from drills import actions, queries
from drills.forms import DrillEditor
from drills.models import Drill
from tests.drills.people import People, acting
from tests.drills.samples import SMALL, WHOLE
from tests.drills.typed import gates, opened, posted, write

pytestmark = pytest.mark.django_db
Visitor = Callable[..., Client]


def test_a_drills_page_tells_somebody_who_has_never_seen_it(
    shared: Drill, visitor: Visitor, people: People
) -> None:
    html = visitor(people.helper).get(f"/library/{shared.public_id}/").content.decode()
    for said in (
        "A pass through the lantern opens both goals.", "Yellows: at most 2 touches.", "After a pass through gate g1, the goals open, the rush starts and there are 12 seconds to score.",
        "Out at the side: yellows – pass it in.", "find a yellow", "41.7 m²", "inside players", "Who was free?", "The far one.",
        "Larger grid: 35 × 30 m instead of 25 × 20 m.", "Looks before it comes.", "marker cones",
    ):  # fmt: skip
        assert said in html
    assert "<svg" in html


def test_a_rung_changes_the_plan_and_the_sentences(shared: Drill, visitor: Visitor, people: People) -> None:
    client, url = visitor(people.helper), f"/library/{shared.public_id}/"
    assert (
        'class="new">After a pass through gate g1, the goals open and there are 8 seconds to score.'
        in client.get(f"{url}?variation=eight").content.decode()
    )
    assert "35 m" in client.get(f"{url}?variation=wide").content.decode()
    assert client.get(f"{url}?variation=no-such").status_code == 404
    assert client.get(f"{url}?grid=no-such").status_code == 404


def test_with_numbers_the_answer_leads_the_page(shared: Drill, visitor: Visitor, people: People) -> None:
    client, url = visitor(people.helper), f"/library/{shared.public_id}/"
    html = client.get(f"{url}?players=15&length=30&width=20").content.decode()
    assert html.index("6v6+3in on 30 × 20 m, one grid") < html.index('<figure class="plan"')
    assert "40 m² per player, inside players" in html
    assert "How many came?" in client.get(f"{url}?players=").content.decode()
    assert "Too few" in client.get(f"{url}?players=3&length=30&width=20").content.decode()
    assert client.get(f"{url}?players=15&fit=99").status_code == 404


def test_the_list_narrows_and_says_what_to_do_when_empty(
    shared: Drill, visitor: Visitor, people: People
) -> None:
    client = visitor(people.coach)
    assert (
        "6v6+3in on 30\u00a0×\u00a020\u00a0m, one grid"
        in client.get("/library/?players=15&length=30&width=20").content.decode()
    )
    assert "Remove one filter" in client.get("/library/?players=2").content.decode()
    assert "is not a number" in client.get("/library/?players=lots").content.decode()


def test_each_filter_that_is_set_can_be_taken_away(visitor: Visitor, people: People) -> None:
    asked = "/library/?q=gates&players=15&length=30.5&kit=4+mini+goals&favourite=1&theme=keep-the-ball&page=2"
    html = visitor(people.coach).get(asked).content.decode()
    without = re.findall(r'class="chip" href="/library/\?([^"]*)"><span[^>]*>Without </span>(.*?) <', html)
    assert [words for _rest, words in without] == [
        "“gates”",
        "15 players",
        "30.5 m long",
        "4 mini goals",
        "Keep the ball",
        "saved",
    ]
    rest = "q=gates&amp;length=30.5&amp;kit=4+mini+goals&amp;favourite=1&amp;theme=keep-the-ball"
    assert without[1][0] == rest


def test_an_empty_library_says_what_to_do_first(visitor: Visitor, people: People) -> None:
    assert "Write the one you ran last week" in visitor(people.coach).get("/library/").content.decode()
    assert "Write the one" not in visitor(people.helper).get("/library/").content.decode()


def test_a_coach_writes_a_drill_and_sends_it_for_review(visitor: Visitor, people: People) -> None:
    client, data = visitor(people.coach), gates()
    data["points-0-role"], data["points-0-looks_like"] = "reds", "Heads up."
    response = client.post("/library/write/", data)
    drill = Drill.objects.get()
    assert response["Location"] == f"/library/{drill.public_id}/"
    client.post(f"/library/{drill.public_id}/review/")
    drill.refresh_from_db()
    assert (drill.title, drill.state, drill.owner) == ("Lantern Gates", "for review", people.coach)


def test_a_wrong_form_comes_back_with_what_was_typed(visitor: Visitor, people: People) -> None:
    data = gates()
    data["format"], data["grids-1-length_m"] = "4v", "400"
    html = visitor(people.coach).post("/library/write/", data).content.decode()
    assert "Grids 2, Length, m" in html
    data["grids-1-length_m"] = "30"
    html = visitor(people.coach).post("/library/write/", data).content.decode()
    assert "Not saved yet" in html
    assert 'value="4v"' in html
    assert "A pass through the lantern opens both goals." in html
    assert Drill.objects.count() == 0


def refused(visitor: Visitor, people: People, changed: dict[str, str]) -> str:
    """The page that comes back for a drill that cannot be kept so."""
    html = visitor(people.coach).post("/library/write/", gates() | changed).content.decode()
    assert "Not saved yet" in html
    assert Drill.objects.count() == 0
    return html


def test_a_group_that_contradicts_the_format_is_told_beside_its_number(
    visitor: Visitor, people: People
) -> None:
    data = {"format": "5v6+2in", "groups-1-least": "3", "groups-1-name": "the shy blues"}
    html = refused(visitor, people, data)
    said = "5v6+2in has 6 for “the shy blues”, but the group has 3: change the group, or change the format."
    assert f'<ul class="errors" id="id_groups-1-least_error"><li>{said}</li></ul>' in html
    assert 'aria-describedby="id_groups-1-least_error" aria-invalid="true"' in html
    assert '<a href="#id_groups-1-least">Groups 2, How many</a>' in html
    for typed in ('value="5v6+2in"', 'value="the shy blues"', "A pass through the lantern opens both goals."):
        assert typed in html


def test_a_group_that_is_missing_is_told_above_the_groups(visitor: Visitor, people: People) -> None:
    html = refused(visitor, people, {"format": "GK+5v5+2in"})
    said = "GK+5v5+2in has 1 in goal on the first side, but no group for them: add a group, or change the format."
    assert f'<ul class="errors" id="id_groups_error"><li>{said}</li></ul>' in html
    fold = re.search(r'<details[^>]*id="fold-who"[^>]*>', html)
    assert fold is not None
    assert " open" in fold[0]


def test_numbers_that_the_groups_can_not_be_are_told_beside_the_group(
    visitor: Visitor, people: People
) -> None:
    data = gates()
    data["numbers_kind"], data["numbers_least"], data["numbers_most"] = "range", "10", "16"
    html = visitor(people.coach).post("/library/write/", data).content.decode()
    said = (
        "The drill is for 10 to 16 players, but every group has a fixed number: "
        "fill in “at most” for at least one of them."
    )
    assert f'id="id_groups-0-most_error"><li>{said}</li>' in html
    for row, most in enumerate(("6", "6", "4")):
        data[f"groups-{row}-most"] = most
        data[f"groups-{row}-least"] = "2" if row == 2 else "4"
    assert visitor(people.coach).post("/library/write/", data).status_code == 302


def test_one_more_row_without_a_script(visitor: Visitor, people: People) -> None:
    data = gates()
    data["more"] = "kit"
    html = visitor(people.coach).post("/library/write/", data).content.decode()
    assert 'name="kit-1-kind"' in html
    assert "Not saved yet" not in html
    assert Drill.objects.count() == 0


def test_a_stale_save_shows_yours_theirs_and_before_and_lets_you_save_over(
    visitor: Visitor, people: People, draft: Drill
) -> None:
    client, url = visitor(people.coach), f"/library/{draft.public_id}/change/"
    found = queries.document_for(acting(people.coach), draft.public_id)
    data = posted(DrillEditor(queries.plain_document(found), themes=[("keep-the-ball", "Keep the ball")]))
    data["version"], data["title"], data["note"] = "1", "My title", "My reason"
    theirs = {**WHOLE, "title": "Their title", "praise": "Theirs only."}
    actions.revise_drill(actor=acting(people.director), public_id=draft.public_id, version=1, document=theirs)
    stale = client.post(url, data)
    html = stale.content.decode()
    assert stale.status_code == 409
    for said in (
        "My title",
        "Their title",
        "Secret Draft",
        "Theirs only.",
        "Save the form over theirs",
        'name="version" value="2"',
        'value="My reason"',
        "Both of you changed this.",
        "Only they changed this: it is in the form now.",
    ):
        assert said in html
    draft.refresh_from_db()
    assert draft.title == "Their title"
    data["version"] = "2"
    assert client.post(url, data).status_code == 302
    draft.refresh_from_db()
    assert (draft.title, draft.version) == ("My title", 3)


@pytest.mark.parametrize(("drills", "asked"), [(1, 7), (3, 7)])
def test_the_list_asks_the_same_however_long_it_is(
    drills: int, asked: int, visitor: Visitor, people: People, django_assert_num_queries
) -> None:
    for number in range(drills):
        actions.create_drill(actor=acting(people.director), document={**SMALL, "title": f"Drill {number}"})
    client = visitor(people.director)
    client.get("/library/")
    with django_assert_num_queries(asked):
        assert client.get("/library/").content.count(b'class="card"') == drills


@pytest.mark.parametrize(("revisions", "asked"), [(1, 11), (3, 11)])
def test_a_drills_page_asks_the_same_however_long_its_past_is(
    revisions: int, asked: int, visitor: Visitor, people: People, draft: Drill, django_assert_num_queries
) -> None:
    for number in range(1, revisions):
        actions.revise_drill(
            actor=acting(people.coach),
            public_id=draft.public_id,
            version=number,
            document={**WHOLE, "title": f"T{number}"},
        )
    client = visitor(people.coach)
    with django_assert_num_queries(asked):
        assert client.get(f"/library/{draft.public_id}/").status_code == 200


@pytest.mark.parametrize(("path", "asked"), [("write/", 5), ("{id}/change/", 6), ("{id}/?players=15", 12)])
def test_the_other_pages(
    path: str, asked: int, visitor: Visitor, people: People, draft: Drill, django_assert_num_queries
) -> None:
    client, url = visitor(people.coach), "/library/" + path.format(id=draft.public_id)
    with django_assert_num_queries(asked):
        assert client.get(url).status_code == 200


def test_words_follow_a_bib_that_is_changed_in_the_form(people: People, visitor: Visitor) -> None:
    groups = [
        {"key": key, "name": name, "plays_for": key, "place": "inside", "least": 4, "bib": name[:-1]}
        for key, name in (("A", "reds"), ("B", "blues"))
    ]
    document = {
        **SMALL,
        "format": "4v4",
        "groups": groups,
        "say_this": ["A red starts.", "Round the red cone."],
    }
    drill = actions.create_drill(actor=acting(people.coach), document=document)
    assert drill.current_revision is not None
    data = opened(drill.current_revision.document)
    write(data, groups__0__bib="orange")
    data["version"] = str(drill.version)
    page = visitor(people.coach).post(f"/library/{drill.public_id}/change/", data, follow=True)
    drill.refresh_from_db()
    made = drill.current_revision.document
    assert made["say_this"] == ["An orange starts.", "Round the red cone."]
    assert [(each["name"], each["bib"]) for each in made["groups"]] == [
        ("oranges", "orange"),
        ("blues", "blue"),
    ]
    assert "The words follow the new bibs" in page.content.decode()
