"""A moving plan as a video: asked for, stopped, made by the worker, given up, and forgotten after some days."""

import contextlib
import hashlib
from datetime import timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _
from procrastinate.contrib.django import app
from procrastinate.exceptions import AlreadyEnqueued

from club.actions import action, hold, lock_row, lock_rows
from club.actions.jobs import DEAD_AFTER_S, MOST_TRIES, SOLVER
from club.actor import Actor
from club.errors import Refused
from club.lasting import VIDEOS
from drills import access
from drills.actions.write import locked
from drills.choices import VIDEO_OPEN, VideoState
from drills.drawing.film import FPS, LONGEST_S, WIDTH_PX, Film
from drills.drawing.video import Stopped, mp4
from drills.models import Video

TASK = "drills.make_video"
MOST_OPEN = 3  # that one person waits for
DEAD_AFTER = timedelta(seconds=DEAD_AFTER_S)
LOST = timedelta(minutes=5)
HEARD_EVERY = timedelta(seconds=0.4)
_MADE_SO = f"{WIDTH_PX} {FPS} {LONGEST_S}"  # a film made otherwise is another film


@action
def ask_for_video(*, actor: Actor, public_id: UUID | str, film: Film) -> Video:
    """Have a drill's moving plan made into a video; the one that there is already is the answer, whoever asked for it.

    Whoever may read the drill may ask. Raises Http404, and Refused where this person waits for others already.
    """
    drill = locked(access.readable(actor, public_id))  # the same plan is asked for by one at a time
    assert actor.user_id is not None
    hold(user_ids=[actor.user_id])  # and what somebody waits for is counted by one at a time
    digest = hashlib.sha256(f"{drill.public_id} {_MADE_SO} {film.end_s} {film.svg}".encode()).hexdigest()
    row = next(iter(lock_rows(Video.objects.filter(digest=digest))), None)
    if row is not None and (row.is_open or row.state == VideoState.DONE):
        row.asked_at = timezone.now()
        row.save(update_fields=["asked_at"])
        return row
    if Video.objects.filter(asked_by_id=actor.user_id, state__in=VIDEO_OPEN).count() >= MOST_OPEN:
        words = _("{n} of your videos are being made. Wait for one of them, or stop it, then ask again.")
        raise Refused(words.format(n=MOST_OPEN))
    row = row or Video(drill=drill, digest=digest, plan=film.svg, end_s=film.end_s)
    row.state, row.wants_stop, row.tries, row.frames, row.seen_at = VideoState.WAITING, False, 0, 0, None
    row.of_frames, row.asked_by_id, row.asked_at = len(film.times_s), actor.user_id, timezone.now()
    row.save()
    app.configure_task(TASK, queue=SOLVER).defer(video=str(row.public_id))
    return row


@action
def stop_video(*, video: Video) -> Video:
    """Make it no further: one that waits is off at once, one that is worked on after its next frame."""
    row = lock_row(Video, video.pk)
    if row.state == VideoState.WORKING and _is_heard_of(row):
        row.wants_stop = True
        row.save(update_fields=["wants_stop"])
    elif row.is_open:
        row.state, row.wants_stop = VideoState.CANCELLED, True
        row.save(update_fields=["state", "wants_stop"])
    return row


def make_video(*, public_id: str) -> str:
    """Make one that waits, or that was left by a worker that died. The state in which it ends.

    Running it again changes nothing once it is done.
    """
    row = _begin(public_id)
    if row is None:
        return "nothing to do"
    heard = timezone.now()

    def watch(done: int, every: int) -> bool:
        nonlocal heard
        if timezone.now() - heard < HEARD_EVERY:
            return True
        heard = timezone.now()
        mine = _mine(row)
        # A row that isn't there any more, that was taken over or called off: nobody waits for this try.
        return bool(mine.update(frames=done, seen_at=heard)) and not mine.filter(wants_stop=True).exists()

    try:
        made = mp4(Film(row.plan, row.end_s), watch)
    except Stopped:
        return _end(row, VideoState.CANCELLED)
    except (
        ValueError
    ):  # too long for its bytes, or a picture that can't be drawn: it would not help to try again
        return _end(row, VideoState.FAILED)
    return _end(row, VideoState.DONE, made)


@action
def _begin(public_id: str) -> Video | None:
    """Take it in hand; None where there is nothing to do, or another worker is at it."""
    row = next(iter(lock_rows(Video.objects.filter(public_id=public_id))), None)
    if row is None or not row.is_open or (row.state == VideoState.WORKING and _is_heard_of(row)):
        return None
    row.tries += 1
    row.state = VideoState.FAILED if row.tries > MOST_TRIES else VideoState.WORKING
    row.frames, row.seen_at = 0, timezone.now()
    row.save(update_fields=["tries", "state", "frames", "seen_at"])
    return row if row.state == VideoState.WORKING else None


def _end(row: Video, state: VideoState, file: bytes | None = None) -> str:
    """Write down how it ended, unless somebody else took it over or called it off in the meantime."""
    frames = row.of_frames if file is not None else 0
    return state if _mine(row).update(state=state, file=file, frames=frames) else "lost"


def _mine(row: Video) -> QuerySet[Video]:
    return Video.objects.filter(pk=row.pk, tries=row.tries, state=VideoState.WORKING)


def _is_heard_of(row: Video) -> bool:
    return row.seen_at is not None and timezone.now() - row.seen_at < DEAD_AFTER


@action
def give_up_lost_videos() -> int:
    """Say so where a worker died too often: nobody waits without end. A turn again for what waits without a job.

    The number given up.
    """
    now = timezone.now()
    for row in Video.objects.filter(state=VideoState.WAITING, asked_at__lt=now - LOST):
        key = str(row.public_id)
        with contextlib.suppress(AlreadyEnqueued), transaction.atomic():
            app.configure_task(TASK, queue=SOLVER, queueing_lock=f"video {key}").defer(video=key)
    lost = Video.objects.filter(state=VideoState.WORKING, seen_at__lt=now - LOST)
    return lost.update(state=VideoState.FAILED)


@action
def forget_videos() -> int:
    """Delete those that nobody asked for in the last days. The number deleted."""
    return Video.objects.filter(asked_at__lt=timezone.now() - VIDEOS).delete()[0]
