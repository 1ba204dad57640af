"""The library over HTTP."""

import json
from collections.abc import Callable

import pytest
from openapi_spec_validator import validate
from rest_framework.test import APIClient

from drills import actions
from drills.models import Drill
from drills.queries import facets
from tests.drills.people import People, acting
from tests.drills.samples import SMALL, WHOLE

pytestmark = pytest.mark.django_db
Api = Callable[..., APIClient]
BASE = "/api/v1/drills/"


def pointers(response) -> list[str]:
    assert response["Content-Type"] == "application/problem+json"
    return [each["pointer"] for each in response.json().get("errors", [])]


@pytest.fixture
def coach(api: Api, people: People) -> APIClient:
    return api(people.coach)


def test_the_list_counts_pages_and_says_what_runs_tonight(
    coach: APIClient, shared: Drill, draft: Drill
) -> None:
    body = coach.get(f"{BASE}?players=15&length=30&width=20&page_size=1").json()
    assert (body["count"], len(body["results"])) == (2, 1)
    row = body["results"][0]
    assert row["runs"] == {"variation": "", "text": "6v6+3in on 30 × 20 m, one grid", "short_of": ""}
    assert (row["area_per_player_m2"], row["area_counts"]) == (41.67, "inside players")
    assert coach.get(f"{BASE}?players=3&length=30&width=20").json()["count"] == 0


def test_wrong_filters_are_refused_by_name(coach: APIClient) -> None:
    response = coach.get(f"{BASE}?players=abc&effort_max=99")
    assert response.status_code == 400
    assert pointers(response) == ["/players", "/effort_max"]


def test_a_drill_is_written_once_per_key(coach: APIClient) -> None:
    headers = {"idempotency-key": "one"}
    first = coach.post(BASE, WHOLE, format="json", headers=headers)
    again = coach.post(BASE, WHOLE, format="json", headers=headers)
    assert (first.status_code, again.status_code) == (201, 201)
    assert first.json() == again.json()
    assert first["ETag"] == '"v1"'
    assert first["Location"].endswith(f"{first.json()['id']}/")
    assert Drill.objects.count() == 1
    assert coach.post(BASE, SMALL, format="json", headers=headers).status_code == 422


@pytest.mark.parametrize(
    ("body", "wrong"),
    [
        ({**SMALL, "format": "4v"}, ["/format"]),
        ({**SMALL, "grids": [{**SMALL["grids"][0], "length_m": 0}]}, ["/grids/0/length_m"]),
        ({**SMALL, "titel": "x"}, ["/"]),
        ({**WHOLE, "conditions": []}, ["/variations/0/changes"]),
        ([], []),
        ({"document": 5}, []),
    ],
)
def test_a_wrong_document_is_refused_where_it_is_wrong(
    coach: APIClient, body: object, wrong: list[str]
) -> None:
    response = coach.post(BASE, body, format="json")
    assert response.status_code == 400
    assert pointers(response) == wrong
    assert Drill.objects.count() == 0


def test_a_change_names_the_version_it_has_seen(coach: APIClient, draft: Drill) -> None:
    url, changed = f"{BASE}{draft.public_id}/", {**WHOLE, "title": "Changed"}
    read = coach.get(url)
    assert (read["ETag"], read.json()["version"]) == ('"v1"', 1)
    assert coach.put(url, changed, format="json").status_code == 428
    assert coach.put(url, changed, format="json", headers={"if-match": '"v7"'}).status_code == 412
    saved = coach.put(
        url, {"document": changed, "note": "why"}, format="json", headers={"if-match": read["ETag"]}
    )
    assert (saved.status_code, saved["ETag"], saved.json()["document"]["title"]) == (200, '"v2"', "Changed")
    assert draft.revisions.last().note == "why"  # type: ignore[union-attr]


def test_a_patch_changes_only_what_it_names(coach: APIClient, draft: Drill) -> None:
    url = f"{BASE}{draft.public_id}/"
    body = coach.patch(
        url, {"praise": "Well seen.", "kit": None}, format="json", headers={"if-match": '"v1"'}
    ).json()
    assert body["document"]["praise"] == "Well seen."
    assert "kit" not in body["document"]
    assert body["document"]["title"] == "Secret Draft"


def test_deleting_retires(coach: APIClient, draft: Drill) -> None:
    assert coach.delete(f"{BASE}{draft.public_id}/").status_code == 204
    assert coach.get(BASE).json()["count"] == 0
    assert coach.get(f"{BASE}{draft.public_id}/").json()["retired"] is True


def test_fit_answers_nearest_first_with_reasons(coach: APIClient, shared: Drill) -> None:
    body = coach.get(f"{BASE}{shared.public_id}/fit/?players=15&length=30&width=20").json()
    best = body["results"][0]
    wanted = {
        "format": "6v6+3in",
        "grids": 1,
        "waiting": 0,
        "length_m": 30,
        "width_m": 20,
        "players_total": 15,
    }
    assert {name: best[name] for name in wanted} == wanted
    assert [each["distance"] for each in body["results"]] == sorted(
        each["distance"] for each in body["results"]
    )
    assert (best["area_per_player_m2"], best["area_counts"]) == (40.0, "inside players")
    assert best["reasons"][0]["text"]
    svg = coach.get(best["drawing"])
    assert (svg.status_code, b"30" in svg.content) == (200, True)


def test_fit_says_why_not(coach: APIClient, shared: Drill) -> None:
    body = coach.get(f"{BASE}{shared.public_id}/fit/?players=3&length=30&width=20").json()
    assert (body["results"], [each["key"] for each in body["reasons"]]) == ([], ["too_few"])


@pytest.mark.parametrize(
    ("query", "wrong"),
    [
        ("players=x&length=30&width=20", ["/players"]),
        ("players=0&length=30&width=20", ["/players"]),
        ("players=500&length=30&width=20", ["/players"]),
        ("players=-4&length=0&width=nan", ["/players", "/length", "/width"]),
        ("length=30&width=20", ["/players"]),
        ("players=2&keepers=3", ["/keepers"]),
    ],
)
def test_fit_refuses_impossible_numbers(
    coach: APIClient, shared: Drill, query: str, wrong: list[str]
) -> None:
    response = coach.get(f"{BASE}{shared.public_id}/fit/?{query}")
    assert response.status_code == 400
    assert pointers(response) == wrong


def test_a_drawing_is_a_file_that_can_load_nothing(coach: APIClient, shared: Drill) -> None:
    url = f"{BASE}{shared.public_id}/drawing.svg"
    first = coach.get(url, headers={"accept": "image/svg+xml"})
    assert first["Content-Type"] == "image/svg+xml; charset=utf-8"
    assert first["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert first.content.startswith(b"<svg")
    assert coach.get(url, headers={"if-none-match": first["ETag"]}).status_code == 304
    assert coach.get(f"{url}?variation=wide").content != first.content
    assert coach.get(f"{url}?variation=no-such").status_code == 404
    assert [coach.get(f"{url}?{each}").status_code for each in ("step=99", "step=x", "grid=no", "fit=0")] == [
        400
    ] * 4


def test_a_label_that_is_markup_stays_a_label(coach: APIClient, people: People) -> None:
    title = "<script>alert(1)</script>"
    drill = actions.create_drill(actor=acting(people.coach), document={**SMALL, "title": title})
    svg = coach.get(f"{BASE}{drill.public_id}/drawing.svg").content
    assert b"<script" not in svg
    assert b"&lt;script&gt;" in svg


def test_the_whole_library_goes_out_and_comes_in_again(
    coach: APIClient, people: People, shared: Drill, api: Api
) -> None:
    exported = json.loads(b"".join(coach.get(f"{BASE}export/").streaming_content))
    assert (exported["schema_version"], len(exported["drills"])) == (2, 1)
    again = coach.post(f"{BASE}import/", exported, format="json").json()
    assert {name: again[name] for name in ("created", "duplicate", "refused")} == {
        "created": 0,
        "duplicate": 1,
        "refused": 0,
    }
    exported["drills"][0]["document"]["title"] = "Another"
    taken = coach.post(f"{BASE}import/", exported, format="json").json()
    assert taken["created"] == 1
    assert coach.get(f"{BASE}{taken['results'][0]['id']}/").json()["document"]["title"] == "Another"


def test_an_import_tells_each_rows_fate(coach: APIClient) -> None:
    body = coach.post(f"{BASE}import/", [SMALL, {**SMALL, "format": "?"}, 5], format="json").json()
    assert [each["outcome"] for each in body["results"]] == ["created", "refused", "refused"]
    assert body["results"][1]["errors"][0]["pointer"] == "/drills/1/format"


@pytest.mark.parametrize("raw", ["[" * 50_000, '{"drills": NaN}', "{", "\xff", "[[[" + "[" * 40 + "]" * 43])
def test_hostile_files_are_refused_whole(coach: APIClient, raw: str) -> None:
    response = coach.post(f"{BASE}import/", raw.encode("latin-1"), content_type="application/json")
    assert response.status_code == 400
    assert response["Content-Type"] == "application/problem+json"
    assert Drill.objects.count() == 0


def test_a_body_that_is_too_large_is_refused(coach: APIClient) -> None:
    response = coach.post(BASE, b" " * (1024 * 1024 + 1), content_type="application/json")
    assert response.status_code == 413


def test_the_description_is_valid_openapi_and_knows_the_document(coach: APIClient) -> None:
    description = json.loads(coach.get("/api/v1/schema/?format=json").content)
    validate(description)
    assert description["openapi"].startswith("3.1")
    assert {"DrillDocument", "FitResult", "DrillRow"} <= set(description["components"]["schemas"])
    assert f"{BASE}{{public_id}}/fit/" in description["paths"]


def test_the_schema_of_documents_is_public(api: Api) -> None:
    body = api(None).get(f"{BASE}schema/document/").json()
    assert body["$ref"] == "#/$defs/DrillDocument"


@pytest.mark.parametrize(("drills", "queries"), [(1, 4), (3, 4)])
def test_the_list_asks_the_same_of_the_database_however_long_it_is(
    coach: APIClient, people: People, drills: int, queries: int, django_assert_num_queries
) -> None:
    for number in range(drills):
        actions.create_drill(actor=acting(people.coach), document={**SMALL, "title": f"Drill {number}"})
    with django_assert_num_queries(queries):
        assert len(coach.get(BASE).json()["results"]) == drills


def test_what_is_not_listed_is_counted_all_the_same(coach: APIClient, people: People, monkeypatch) -> None:
    for number in range(5):
        actions.create_drill(actor=acting(people.coach), document={**SMALL, "title": f"Drill {number}"})
    monkeypatch.setattr(facets, "MOST_COUNTED", 3)
    body = coach.get(f"{BASE}?page_size=2&page=3").json()
    assert (body["count"], [each["title"] for each in body["results"]]) == (5, ["Drill 4"])
