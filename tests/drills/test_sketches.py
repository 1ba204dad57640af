"""Photos of a board beside a drill: who adds, approves and sees them, where they never appear, and when they are gone."""

import hashlib
import json
from collections.abc import Callable
from typing import Any

import pytest
from django.core.exceptions import PermissionDenied
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import IntegrityError, transaction
from django.http import Http404
from django.test import Client
from rest_framework.test import APIClient

from club.errors import Refused
from club.models import ClubSettings, User
from drills import actions, pages, queries
from drills.models import Attachment, Drill, DrillSketch
from drills.photos import MB, clean
from tests.drills.people import People, acting
from tests.drills.taken import SECRETS, board, exif, saved

pytestmark = pytest.mark.django_db
Visitor = Callable[..., Client]


def file_of(data: bytes, name: str = "board.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/jpeg")


def photo(shade: int = 0) -> bytes:
    """A phone's photo, another one for each shade."""
    picture = board()
    picture.putpixel((0, 0), (shade, shade, shade))
    picture.paste((shade * 20, 0, 0), (300, 20, 420, 120))
    return saved(picture, exif=exif())


def added(drill: Drill, user: User, shade: int = 0, caption: str = "") -> DrillSketch:
    return actions.add_sketch(
        actor=acting(user), public_id=drill.public_id, sent=file_of(photo(shade)), caption=caption
    )


def address_of(sketch: DrillSketch, drill: Drill) -> str:
    return f"/library/{drill.public_id}/sketches/{sketch.attachment.sha256}.jpg"


def switch_off() -> None:
    ClubSettings.objects.update(sketches_allowed=False)


def test_a_coach_adds_the_director_approves_a_reader_sees(
    shared: Drill, people: People, visitor: Visitor
) -> None:
    url = f"/library/{shared.public_id}/"
    coach, reader, director = (visitor(each) for each in (people.other, people.reader, people.director))
    sent = coach.post(f"{url}sketches/", {"photo": file_of(photo()), "caption": " Two <gates> "})
    assert (sent.status_code, sent["Location"]) == (302, f"{url}#sketches")
    sketch = DrillSketch.objects.get()
    picture = address_of(sketch, shared)
    assert (sketch.caption, sketch.state, sketch.added_by) == ("Two <gates>", "waiting", people.other)
    for client, sees in ((coach, True), (director, True), (reader, False), (visitor(people.coach), False)):
        html = client.get(url).content.decode()
        assert (picture in html, "waiting for approval" in html) == (sees, sees)
        assert client.get(picture).status_code == (200 if sees else 404)
    assert f'<a href="{url}#sketches">' in director.get("/").content.decode()
    approve = f"{url}sketches/{sketch.public_id}/approve/"
    assert [coach.post(approve).status_code, director.post(approve).status_code] == [403, 302]
    html = reader.get(url).content.decode()
    assert picture in html
    assert 'alt="Two &lt;gates&gt;"' in html
    assert "waiting for approval" not in html
    assert 'name="photo"' not in html
    assert f'<a href="{url}#sketches">' not in director.get("/").content.decode()


def test_what_is_saved_and_served_holds_nothing_of_what_was_sent_but_its_dots(
    shared: Drill, people: People, visitor: Visitor
) -> None:
    data = photo()
    sketch = added(shared, people.director)
    stored = bytes(Attachment.objects.get().data)
    assert [each for each in SECRETS if each in stored] == []
    assert stored == clean(data).data
    assert stored != data
    answer = visitor(people.reader).get(address_of(sketch, shared))
    assert (answer.content, answer["Content-Type"]) == (stored, "image/jpeg")
    assert (answer["X-Content-Type-Options"], answer["Content-Disposition"]) == ("nosniff", "inline")
    assert answer["Cache-Control"] == "private, max-age=604800, immutable"
    assert answer["Content-Security-Policy"] == "default-src 'none'; sandbox"
    sha256 = hashlib.sha256(stored).hexdigest()
    assert answer["ETag"] == f'"{sha256}"'
    row = queries.sketches_beside(acting(people.reader), shared).rows[0]
    assert (row.sha256, row.length, row.width_px, row.height_px) == (sha256, len(stored), 640, 480)
    html = visitor(people.reader).get(f"/library/{shared.public_id}/").content.decode()
    assert 'width="640" height="480" loading="lazy"' in html


def test_the_directors_own_photo_waits_for_nobody(shared: Drill, people: People) -> None:
    assert added(shared, people.director).state == "approved"


REFUSED: dict[str, tuple[Callable[[], bytes], str]] = {
    "40 MB": (lambda: bytes(40 * MB), "This photo has 40 MB; up to 12 MB can be read."),
    "words": (
        lambda: b"Press high." * 99,
        "This is no photo that can be read. Send it as JPEG, PNG or WebP.",
    ),
    "HEIC": (lambda: b"\0\0\0\x18ftypheic" + bytes(99), "Take or save the photo as JPEG."),
    "half": (lambda: photo()[:4000], "This photo is damaged, or only a part of it arrived."),
    "moves": (
        lambda: saved(board(), "PNG", save_all=True, append_images=[board().rotate(90)]),
        "This picture moves.",
    ),
    "small": (lambda: saved(board((50, 50))), "too small to read: at least 100 pixels each way."),
    "empty": (lambda: b"", "This file is empty. Choose the photo again."),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_no_photo_is_refused_beside_its_field_and_nothing_is_stored(
    name: str, shared: Drill, people: People, visitor: Visitor
) -> None:
    make, words = REFUSED[name]
    answer = visitor(people.coach).post(
        f"/library/{shared.public_id}/sketches/", {"photo": file_of(make()), "caption": "Two gates"}
    )
    assert answer.status_code == 200
    html = answer.content.decode()
    field = html.partition('for="sketch-photo"')[2].partition("</div>")[0]
    assert words in field
    assert 'aria-invalid="true"' in field
    assert 'value="Two gates"' in html
    assert 'id="sketches" open' in html.replace(" data-open-wide", "")
    assert (DrillSketch.objects.count(), Attachment.objects.count()) == (0, 0)


def test_a_photo_of_40_mb_is_refused_before_it_is_read(shared: Drill, people: People) -> None:
    class Unread(SimpleUploadedFile):
        def read(self, *args: Any) -> bytes:
            raise AssertionError("was read")

    sent = Unread("board.jpg", b"")
    sent.size = 40 * MB
    with pytest.raises(Refused, match="This photo has 40 MB; up to 12 MB can be read"):
        actions.add_sketch(actor=acting(people.coach), public_id=shared.public_id, sent=sent)


@pytest.mark.parametrize("caption", ["x" * 121, "two\nlines", "\u202eturned", "nul\0"])
def test_a_caption_is_one_short_line(caption: str, shared: Drill, people: People) -> None:
    with pytest.raises(Refused) as refused:
        added(shared, people.coach, caption=caption)
    assert list(refused.value.by_field()) == ["caption"]
    assert Attachment.objects.count() == 0


def test_there_are_three_and_no_photo_twice(shared: Drill, people: People, visitor: Visitor) -> None:
    first = added(shared, people.coach, 1)
    with pytest.raises(Refused, match="beside the drill already"):
        added(shared, people.director, 1)
    added(shared, people.other, 2)
    added(shared, people.director, 3)
    with pytest.raises(Refused, match="There are 3 photos already"):
        added(shared, people.director, 4)
    html = visitor(people.coach).get(f"/library/{shared.public_id}/").content.decode()
    assert html.count('<figcaption><span class="second">') == 2  # the other coach's is waiting
    assert "There is no room for another photo" in html
    assert 'name="photo"' not in html
    actions.remove_sketch(actor=acting(people.coach), public_id=shared.public_id, sketch_id=first.public_id)
    assert added(shared, people.director, 4).position == 0
    assert Attachment.objects.count() == 3


def test_the_database_keeps_the_limits_too(shared: Drill, people: People) -> None:
    sketch = added(shared, people.director)
    with pytest.raises(IntegrityError, match="sketch_place_known"), transaction.atomic():
        DrillSketch.objects.update(position=3)
    with pytest.raises(IntegrityError, match="attachment_is_small"), transaction.atomic():
        Attachment.objects.update(data=bytes(400_001))
    with pytest.raises(IntegrityError, match="attachment_is_small"), transaction.atomic():
        Attachment.objects.update(data=b"")
    Attachment.objects.update(data=bytes(400_000))
    assert Attachment.objects.get(pk=sketch.attachment_id).length == 400_000


def test_bytes_go_with_the_last_drill_that_shows_them(shared: Drill, draft: Drill, people: People) -> None:
    one, other = added(shared, people.coach), added(draft, people.coach)
    assert one.attachment_id == other.attachment_id
    remove = {"actor": acting(people.coach)}
    with pytest.raises(Http404):  # waiting: for others it is not there
        actions.remove_sketch(actor=acting(people.other), public_id=shared.public_id, sketch_id=one.public_id)
    actions.remove_sketch(**remove, public_id=shared.public_id, sketch_id=one.public_id)
    assert Attachment.objects.count() == 1
    actions.remove_sketch(**remove, public_id=draft.public_id, sketch_id=other.public_id)
    assert (Attachment.objects.count(), DrillSketch.objects.count()) == (0, 0)


def test_an_approved_photo_is_removed_by_who_added_it_or_the_director(shared: Drill, people: People) -> None:
    sketch = added(shared, people.coach)
    ids = {"public_id": shared.public_id, "sketch_id": sketch.public_id}
    actions.approve_sketch(actor=acting(people.director), **ids)
    with pytest.raises(PermissionDenied):
        actions.remove_sketch(actor=acting(people.other), **ids)
    with pytest.raises(PermissionDenied):
        actions.approve_sketch(actor=acting(people.coach), **ids)
    actions.remove_sketch(actor=acting(people.director), **ids)
    assert DrillSketch.objects.count() == 0


def test_its_history_says_what_happened_without_words_or_bytes(shared: Drill, people: People) -> None:
    sketch = added(shared, people.coach, caption="Odalys on the left")
    ids = {"public_id": shared.public_id, "sketch_id": sketch.public_id}
    actions.approve_sketch(actor=acting(people.director), **ids)
    actions.remove_sketch(actor=acting(people.director), **ids)
    events = DrillSketch.pgh_event_model.objects.order_by("pgh_id")  # type: ignore[attr-defined]
    assert list(events.values_list("pgh_label", "state")) == [
        ("insert", "waiting"),
        ("update", "approved"),
        ("delete", "approved"),
    ]
    assert "Odalys" not in json.dumps(list(events.values()), default=str)


def test_nobody_adds_a_photo_to_a_retired_drill_and_it_stays_when_its_writer_has_gone(
    shared: Drill, people: People, visitor: Visitor
) -> None:
    sketch = added(shared, people.other)
    actions.approve_sketch(
        actor=acting(people.director), public_id=shared.public_id, sketch_id=sketch.public_id
    )
    people.other.delete()
    html = visitor(people.reader).get(f"/library/{shared.public_id}/").content.decode()
    assert address_of(sketch, shared) in html
    assert "Other" not in html
    actions.retire_drill(actor=acting(people.director), public_id=shared.public_id)
    with pytest.raises(PermissionDenied):
        added(shared, people.director, 5)
    assert added_form_of(visitor(people.director), shared) is False


def added_form_of(client: Client, drill: Drill) -> bool:
    return 'name="photo"' in client.get(f"/library/{drill.public_id}/").content.decode()


def test_no_shared_link_no_export_and_no_adapted_copy_holds_it(
    shared: Drill, people: People, api: Callable[..., APIClient]
) -> None:
    sketch = added(shared, people.director, caption="Gates on the board")
    secret = actions.share_drill(actor=acting(people.coach), public_id=shared.public_id, days="7")
    page = Client().get(f"/library/shared/{secret}/").content.decode()
    document = pages.file_of(queries.document_for(acting(people.coach), shared.public_id))[1]
    library = b"".join(api(people.coach).get("/api/v1/drills/export/").streaming_content).decode()
    for text in (page, document, library):
        assert "Shared Gates" in text
        assert "Gates on the board" not in text
        assert sketch.attachment.sha256 not in text
        assert "sketches" not in text
    assert Client().get(address_of(sketch, shared)).status_code == 302  # to sign in
    copy = actions.adapt_drill(actor=acting(people.other), public_id=shared.public_id)
    assert copy.sketches.count() == 0
    elsewhere = f"/library/{copy.public_id}/sketches/{sketch.attachment.sha256}.jpg"
    client = Client()
    client.force_login(people.other, backend="django.contrib.auth.backends.ModelBackend")
    assert client.get(elsewhere).status_code == 404


def test_a_draft_shows_its_photos_to_nobody_who_may_not_read_it(
    draft: Drill, people: People, visitor: Visitor
) -> None:
    sketch = added(draft, people.coach)
    actions.approve_sketch(
        actor=acting(people.director), public_id=draft.public_id, sketch_id=sketch.public_id
    )
    statuses = [
        visitor(each).get(address_of(sketch, draft)).status_code for each in (people.coach, people.other)
    ]
    assert statuses == [200, 404]


def test_switched_off_none_is_shown_taken_or_answered(
    shared: Drill, people: People, visitor: Visitor, api: Callable[..., APIClient]
) -> None:
    sketch = added(shared, people.coach)
    director, url = visitor(people.director), f"/library/{shared.public_id}/"
    assert "a photo waits for your approval" in director.get("/").content.decode()
    switch_off()
    assert "a photo waits for your approval" not in director.get("/").content.decode()
    html = director.get(url).content.decode()
    assert "sketches/" not in html
    assert 'id="sketches"' not in html
    assert director.get(address_of(sketch, shared)).status_code == 404
    for step in ("", f"{sketch.public_id}/approve/", f"{sketch.public_id}/remove/"):
        assert director.post(f"{url}sketches/{step}", {"photo": file_of(photo(3))}).status_code == 404
    assert api(people.director).get(f"/api/v1/drills/{shared.public_id}/sketches/").status_code == 404
    assert DrillSketch.objects.count() == 1  # switched on again, it is there


def test_leaders_switch_it_on_the_clubs_page(people: People, visitor: Visitor) -> None:
    director = visitor(people.director)
    html = director.get("/club/settings/").content.decode()
    assert "Photos of a board beside a drill" in html
    form = director.get("/club/settings/").context["form"]
    values = {
        name: value
        for name, value in form.initial.items()
        if value is not None and name != "sketches_allowed"
    }
    assert director.post("/club/settings/", values).status_code == 302
    assert ClubSettings.objects.get().sketches_allowed is False


def test_the_api_does_the_same(shared: Drill, people: People, api: Callable[..., APIClient]) -> None:
    url = f"/api/v1/drills/{shared.public_id}/sketches/"
    coach, director, reader = (api(each) for each in (people.coach, people.director, people.reader))
    wrong = coach.post(url, {"photo": file_of(b"words" * 99)}, format="multipart")
    assert (wrong.status_code, wrong.json()["errors"][0]["pointer"]) == (400, "/photo")
    made = coach.post(url, {"photo": file_of(photo()), "caption": "Gates"}, format="multipart")
    assert (made.status_code, made.json()["free"], made.json()["count"]) == (201, 2, 1)
    row = made.json()["results"][0]
    assert (row["state"], row["caption"], row["may_approve"], row["may_remove"]) == (
        "waiting",
        "Gates",
        False,
        True,
    )
    assert reader.get(url).json() == {"count": 0, "free": 2, "results": []}
    assert reader.get(row["picture"]).status_code == 404
    assert director.put(f"{url}{row['id']}/approval/").json()["results"][0]["state"] == "approved"
    picture = reader.get(row["picture"])
    assert (picture.status_code, picture["Content-Type"], len(picture.content)) == (
        200,
        "image/jpeg",
        row["bytes"],
    )
    assert reader.get(row["picture"], headers={"if-none-match": picture["ETag"]}).status_code == 304
    assert coach.post(url, {"photo": file_of(photo())}, format="multipart").status_code == 400
    assert coach.delete(f"{url}{row['id']}/").status_code == 204
    assert reader.get(url).json()["free"] == 3
