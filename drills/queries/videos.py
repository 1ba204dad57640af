"""Videos of moving plans as rows."""

from datetime import timedelta
from uuid import UUID

from django.http import Http404
from django.utils import timezone

from club.actions.jobs import DEAD_AFTER_S
from drills.models import Drill, Video

# The page says that nobody is there: later than another worker may take a row over.
QUIET = timedelta(seconds=DEAD_AFTER_S + 15)


def video_of(drill: Drill, public_id: UUID | str) -> Video:
    """A video of a drill, without its bytes. Raises Http404."""
    found = Video.objects.defer("file", "plan").filter(drill=drill, public_id=public_id).first()
    if found is None:
        raise Http404
    return found


def video_file(row: Video) -> bytes:
    """The MP4 of one that is done. Raises Http404 for any other."""
    found = Video.objects.filter(pk=row.pk, file__isnull=False).values_list("file", flat=True).first()
    if found is None:
        raise Http404
    return bytes(found)


def is_quiet(row: Video) -> bool:
    """Whether nobody has been heard of who works on it, or came for it."""
    return row.is_open and (row.seen_at or row.asked_at) < timezone.now() - QUIET
