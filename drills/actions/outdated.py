"""After an upgrade of the engine: rebuild the derived rows in the background, a few drills at a time."""

from django.db import transaction
from procrastinate.contrib.django import app
from procrastinate.exceptions import AlreadyEnqueued

from drills.actions.derive import rederive_drill, sweep_footprints, sweep_words
from drills.queries.outdated import outdated_drills

TASK, QUEUE = "drills.rederive_outdated", "quick"
AT_ONCE = 10  # drills: other short jobs get their turn in between


def ask_to_rederive(*, after: int = 0) -> bool:
    """Have outdated drills rebuilt, if there are any with a higher id; tell whether a job was queued.

    Asking twice queues one: several starts at once share it.
    """
    if not outdated_drills().filter(pk__gt=after).exists():
        return False
    try:
        with transaction.atomic():
            app.configure_task(TASK, queue=QUEUE, lock=TASK, queueing_lock=TASK).defer(after=after)
    except AlreadyEnqueued:
        return False
    return True


def rederive_outdated(*, after: int = 0) -> int:
    """Rebuild the next outdated drills, each in its own transaction; the number done.

    The job for the rest is queued first: a drill that can't be rebuilt does not keep those after it waiting.
    """
    ids = list(outdated_drills().filter(pk__gt=after).values_list("pk", flat=True)[:AT_ONCE])
    if not ids:
        return 0
    goes_on = ask_to_rederive(after=ids[-1])
    made_anew: set[str] = set()
    for drill_id in ids:
        rederive_drill(drill_id=drill_id, made_anew=made_anew)
    if not goes_on:
        sweep_footprints()
        sweep_words()
    return len(ids)
