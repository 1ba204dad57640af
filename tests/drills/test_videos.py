"""Videos of moving plans: asked for, made by the worker, stopped, given up, forgotten; and who gets at them."""

import io
import re
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from uuid import uuid4

import av
import pytest
from django.db import IntegrityError, connection, transaction
from django.http import Http404
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from club.errors import Refused
from club.models import User
from drills import actions, queries
from drills.actions import videos
from drills.drawing.film import Film
from drills.game.document import decode
from drills.models import Drill, Video
from drills.pages import film_of
from tests.drills.people import People, acting
from tests.harness.jobs import run_jobs

pytestmark = pytest.mark.django_db(transaction=True)
Visitor = Callable[[User | None], Client]
MOVING = Path("bibrack/demo/drills/split-the-pair.json")


@pytest.fixture
def moving(people: People) -> Drill:
    """A draft of the coach's whose plan moves for 4.8 s."""
    return actions.create_drill(actor=acting(people.coach), document=decode(MOVING.read_bytes()))


def the_film(drill: Drill, turn: int = 0) -> Film:
    from drills.game.played import as_played

    found = film_of(as_played(decode(MOVING.read_bytes())), turn)
    assert found is not None
    return found


def asked(user: User, drill: Drill, turn: int = 0) -> Video:
    return actions.ask_for_video(actor=acting(user), public_id=drill.public_id, film=the_film(drill, turn))


def address(drill: Drill, name: str = "video-make", *more: object) -> str:
    return reverse(f"drills:{name}", args=[drill.public_id, *more])


def jobs() -> list[str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT status::text FROM procrastinate_jobs WHERE queue_name = 'solver' ORDER BY id")
        return [status for (status,) in cursor.fetchall()]


def test_a_coach_asks_the_worker_makes_it_and_it_is_taken_along(
    moving: Drill, people: People, visitor: Visitor
) -> None:
    client = visitor(people.coach)
    sent = client.post(address(moving))
    row = Video.objects.get()
    assert sent["Location"] == address(moving, "video", row.public_id)
    waiting = client.get(sent["Location"]).content.decode()
    assert "Waiting for its turn" in waiting
    assert client.get(address(moving, "video-file", row.public_id)).status_code == 404
    run_jobs("solver")
    done = client.get(sent["Location"]).content.decode()
    assert "The video is ready" in done
    file = client.get(address(moving, "video-file", row.public_id))
    assert (file["Content-Type"], file["Content-Disposition"]) == (
        "video/mp4",
        'attachment; filename="split-the-pair.mp4"',
    )
    with av.open(io.BytesIO(file.content)) as opened:
        assert len(list(opened.decode(video=0))) == row.of_frames == len(the_film(moving).times_s)
    again = client.get(address(moving, "video-file", row.public_id), headers={"if-none-match": file["ETag"]})
    assert again.status_code == 304


def test_the_same_plan_is_made_once_whoever_asks_and_another_turn_is_another(
    moving: Drill, people: People
) -> None:
    first, second = asked(people.coach, moving), asked(people.director, moving)
    assert first.pk == second.pk
    assert asked(people.coach, moving, 90).pk != first.pk
    run_jobs("solver")
    assert asked(people.director, moving).state == "done"
    assert jobs() == ["succeeded", "succeeded"]
    assert videos.make_video(public_id=str(first.public_id)) == "nothing to do"


def test_three_wait_for_one_person_and_a_fourth_is_told_so(
    moving: Drill, people: People, visitor: Visitor
) -> None:
    for turn in (0, 90, 180):
        asked(people.coach, moving, turn)
    with pytest.raises(Refused):
        asked(people.coach, moving, 270)
    page = visitor(people.coach).post(address(moving) + "?turn=270", follow=True).content.decode()
    assert "3 of your videos are being made" in page
    assert asked(people.director, moving, 270).state == "waiting"


def test_a_killed_workers_video_is_taken_up_again(moving: Drill, people: People) -> None:
    row = asked(people.coach, moving)
    long_ago = timezone.now() - timedelta(minutes=1)
    Video.objects.update(state="working", tries=1, frames=9, seen_at=long_ago)
    run_jobs("solver")
    row.refresh_from_db()
    assert (row.state, row.tries, row.frames) == ("done", 2, row.of_frames)


def test_nobody_takes_what_another_worker_is_at(moving: Drill, people: People) -> None:
    row = asked(people.coach, moving)
    Video.objects.update(state="working", tries=1, seen_at=timezone.now())
    assert videos.make_video(public_id=str(row.public_id)) == "nothing to do"


def test_what_takes_its_worker_along_three_times_is_said_not_tried_again(
    moving: Drill, people: People, visitor: Visitor
) -> None:
    row = asked(people.coach, moving)
    Video.objects.update(state="working", tries=3, seen_at=timezone.now() - timedelta(minutes=1))
    run_jobs("solver")
    page = visitor(people.coach).get(address(moving, "video", row.public_id)).content.decode()
    assert "The video could not be made" in page
    assert "Try again" in page
    assert asked(people.coach, moving).state == "waiting"  # and again it can be asked for
    run_jobs("solver")
    row.refresh_from_db()
    assert (row.state, row.tries) == ("done", 1)


def test_one_whose_worker_never_came_back_is_given_up_and_one_without_a_job_gets_one(
    moving: Drill, people: People
) -> None:
    lost, waiting = asked(people.coach, moving), asked(people.coach, moving, 90)
    long_ago = timezone.now() - timedelta(minutes=6)
    Video.objects.filter(pk=lost.pk).update(state="working", tries=1, seen_at=long_ago)
    Video.objects.filter(pk=waiting.pk).update(asked_at=long_ago)
    with connection.cursor() as cursor:
        cursor.execute("UPDATE procrastinate_jobs SET status = 'failed'")
    assert [actions.give_up_lost_videos() for _time in range(2)] == [1, 0]
    assert jobs() == ["failed", "failed", "todo"]
    run_jobs("solver")
    assert {each.pk: each.state for each in Video.objects.all()} == {lost.pk: "failed", waiting.pk: "done"}


def test_whoever_asked_stops_one_that_waits_and_one_that_is_made(
    moving: Drill, people: People, visitor: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = asked(people.coach, moving)
    stop = address(moving, "video-stop", row.public_id)
    assert visitor(people.director).post(stop).status_code == 404
    page = visitor(people.coach).post(stop, follow=True).content.decode()
    assert "Nothing was saved." in page
    row = asked(people.coach, moving)
    monkeypatch.setattr(videos, "HEARD_EVERY", timedelta(0))
    Video.objects.update(wants_stop=True)  # pressed between two frames
    assert videos.make_video(public_id=str(row.public_id)) == "cancelled"


def test_progress_is_written_down_while_it_is_made(
    moving: Drill, people: People, visitor: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(videos, "HEARD_EVERY", timedelta(0))
    row, seen = asked(people.coach, moving), []

    def made(film: Film, watch: Callable[[int, int], bool]) -> bytes:
        assert watch(30, len(film.times_s))
        page = visitor(people.coach).get(address(moving, "video", row.public_id)).content.decode()
        seen.append(re.sub(r"\s+", " ", page))
        return b"mp4"

    monkeypatch.setattr(videos, "mp4", made)
    videos.make_video(public_id=str(row.public_id))
    assert f"30 of {row.of_frames} pictures" in seen[0]


def test_a_video_that_was_taken_over_is_not_written(
    moving: Drill, people: People, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = asked(people.coach, moving)

    def made(film: Film, watch: object) -> bytes:
        Video.objects.update(tries=2)
        return b"mp4"

    monkeypatch.setattr(videos, "mp4", made)
    assert videos.make_video(public_id=str(row.public_id)) == "lost"
    assert Video.objects.get().file is None


def test_a_plan_that_can_not_be_drawn_is_said_at_once(moving: Drill, people: People) -> None:
    row = asked(people.coach, moving)
    Video.objects.update(plan="no picture")
    assert videos.make_video(public_id=str(row.public_id)) == "failed"


def test_they_are_forgotten_after_seven_days_unless_asked_for_again(moving: Drill, people: People) -> None:
    old, kept = asked(people.coach, moving), asked(people.coach, moving, 90)
    Video.objects.update(asked_at=timezone.now() - timedelta(days=8))
    asked(people.coach, moving, 90)
    assert actions.forget_videos() == 1
    assert [each.pk for each in Video.objects.all()] == [kept.pk]
    with pytest.raises(Http404):
        queries.video_file(old)


def test_the_database_holds_no_more_than_a_megabyte_and_no_file_that_is_not_done(
    moving: Drill, people: People
) -> None:
    asked(people.coach, moving)
    for values in ({"state": "done", "file": bytes(1_000_001)}, {"state": "done"}, {"file": b"x"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Video.objects.update(**values)
    Video.objects.update(state="done", file=bytes(1_000_000))


def test_who_may_read_the_drill_may_have_its_video_and_nobody_else(
    moving: Drill, people: People, visitor: Visitor
) -> None:
    row = asked(people.coach, moving)
    run_jobs("solver")
    reads = {"director": 200, "coach": 200, "other": 404, "helper": 404, "stranger": 403}
    for name, wanted in reads.items():
        client = visitor(getattr(people, name))
        for route in ("video", "video-file"):
            assert (name, client.get(address(moving, route, row.public_id)).status_code) == (name, wanted)
        assert (name, client.post(address(moving)).status_code) == (name, 302 if wanted == 200 else wanted)
    actions.send_for_review(actor=acting(people.coach), public_id=moving.public_id)
    assert visitor(people.helper).get(address(moving, "video-file", row.public_id)).status_code == 200


def test_a_video_that_there_is_not_and_a_plan_that_does_not_move(
    moving: Drill, shared: Drill, people: People, visitor: Visitor
) -> None:
    client, row = visitor(people.coach), asked(people.coach, moving)
    assert client.get(address(moving, "video", uuid4())).status_code == 404
    assert client.get(address(shared, "video", row.public_id)).status_code == 404  # another drill's
    assert client.post(address(shared)).status_code == 404
    for query in ("variation=no-such", "grid=no-such", "turn=45", "players=8&length=30&width=20&fit=99"):
        assert client.post(f"{address(moving)}?{query}").status_code == 404


@pytest.mark.parametrize("query", ["", "?turn=90", "?players=8&length=40&width=30&turn=180"])
def test_page_picture_and_video_show_one_plan(
    query: str, moving: Drill, people: People, visitor: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is offered below the plan, with its numbers and its turn, draws the plan that stands above it."""
    client = visitor(people.coach)
    html = client.get(f"/library/{moving.public_id}/{query}").content.decode()
    shown = re.search(r'data-sheet><svg class="plan".*?</svg>', html)
    assert shown is not None
    drawn = []
    monkeypatch.setattr("drills.api.drawing.png", lambda svg, width_px: drawn.append(svg) or b"png")
    found = re.search(r'id="share-picture" href="([^"]+)" download="split-the-pair.png"', html)
    assert found is not None
    assert client.get(found[1].replace("&amp;", "&")).content == b"png"
    assert _places(drawn[0]) == _places(shown[0])
    form = re.search(r'action="([^"]+)" data-file', html)
    assert form is not None
    client.post(form[1].replace("&amp;", "&"))
    plan = Film(Video.objects.get().plan, 1).whole(0)
    assert _places(plan) == _places(shown[0])


def _places(svg: str) -> set[tuple[str, str]]:
    """Which player stands where."""
    tags = [tag for tag in re.findall(r"<g [^>]*>", svg) if 'class="player ' in tag and "data-key" in tag]
    assert tags
    return {(_value("data-key", tag), _value("transform", tag)) for tag in tags}


def _value(name: str, tag: str) -> str:
    found = re.search(f'{name}="([^"]+)"', tag)
    assert found is not None
    return found[1]
