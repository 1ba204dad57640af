"""Derived rows: columns, rungs and rooms of a drill's current revision, thrown away and made anew."""

from collections.abc import Iterable

from django.db import connection, transaction
from django.db.models import Exists, F, Model, OuterRef
from procrastinate.contrib.django import app
from procrastinate.exceptions import AlreadyEnqueued
from psycopg import sql

from club.actions import action, lock_row
from drills.bridge import (
    SETUP_COLUMNS,
    WITH_KIT_COLUMNS,
    RungColumns,
    any_rung,
    cuts_of,
    document_of,
    kit_fingerprint,
    makers_of,
    project,
    rungs,
    setup_rows,
    with_kit_rows,
    words_of,
)
from drills.game.document import DrillDocument
from drills.game.rooms import ENGINE_VERSION
from drills.models import Drill, Footprint, GridKit, RoomNeeded, RoomWithKit, Variation, Word
from drills.queries.outdated import outdated_drills


def derive(drill: Drill, document: DrillDocument, *, made_anew: set[str] | None = None) -> None:
    """Make the derived rows of a saved drill. The caller holds the transaction.

    Footprints that are there are taken as they are. With `made_anew`, all but those it names are made again, and named.
    """
    made = rungs(drill, document)
    drill.variations.all().delete()
    footprints, kits = _footprints(made, made_anew), _kits(made)
    for rung in made:
        rung.row.footprint_id = footprints[rung.fingerprint]
        rung.row.kit_id = kits[kit_fingerprint(rung.design.kit)]
    Variation.objects.bulk_create(rung.row for rung in made)
    keep_words([drill])
    if drill.footprint_id != footprints[any_rung(made)]:
        drill.footprint_id = footprints[any_rung(made)]
        Drill.objects.filter(pk=drill.pk).update(footprint=drill.footprint_id)


def _footprints(made: list[RungColumns], made_anew: set[str] | None) -> dict[str, int]:
    """The row of each fingerprint; missing ones are made, always in the same order so that two savers never lock up."""
    makers, with_kit = makers_of(made)
    known = _known(makers)

    def fill(fingerprint: str) -> None:
        _copy(RoomNeeded, SETUP_COLUMNS, setup_rows(known[fingerprint], makers[fingerprint]()))
        if fingerprint in with_kit:
            _copy(RoomWithKit, WITH_KIT_COLUMNS, with_kit_rows(known[fingerprint], with_kit[fingerprint]()))

    if made_anew is not None:
        again = [each for each in known if each not in made_anew]
        for rows in (RoomNeeded.objects, RoomWithKit.objects):
            rows.filter(footprint_id__in=[known[each] for each in again]).delete()
        for each in again:
            fill(each)
        made_anew |= set(makers)
    for fingerprint in sorted(set(makers) - set(known)):
        known[fingerprint], new = _put(fingerprint)
        if new:
            fill(fingerprint)
    return known


def _kits(made: list[RungColumns]) -> dict[str, int]:
    """The row of each kit that stands on a grid. They are few and stay."""
    wanted = {kit_fingerprint(rung.design.kit): dict(rung.design.kit) for rung in made}
    rows = GridKit.objects.filter(fingerprint__in=wanted).values_list("fingerprint", "pk")
    known = dict(rows)
    if new := sorted(set(wanted) - set(known)):
        GridKit.objects.bulk_create(
            [GridKit(fingerprint=each, kit=wanted[each]) for each in new], ignore_conflicts=True
        )
        known = dict(rows.all())
    return known


def _put(fingerprint: str) -> tuple[int, bool]:
    """The id of a footprint's row, and whether it was made just now; waits for somebody who is making the same."""
    with connection.cursor() as cursor:
        cursor.execute(
            f"INSERT INTO {Footprint._meta.db_table} (fingerprint, engine_version) VALUES (%s, %s)"
            " ON CONFLICT (fingerprint) DO UPDATE SET engine_version = EXCLUDED.engine_version"
            " RETURNING id, xmax = 0",  # no xmax: nobody had this row before
            [fingerprint, ENGINE_VERSION],
        )
        found: tuple[int, bool] = cursor.fetchone()
        return found


def _known(fingerprints: Iterable[str]) -> dict[str, int]:
    """Those there already, kept from being swept away until they are pointed at."""
    with connection.cursor() as cursor:
        cursor.execute(
            f"SELECT fingerprint, id FROM {Footprint._meta.db_table}"
            " WHERE fingerprint = ANY(%s) ORDER BY fingerprint FOR KEY SHARE",
            [list(fingerprints)],
        )
        return dict(cursor.fetchall())


def keep_words(drills: Iterable[Drill]) -> None:
    """Put the words that these drills say among the library's words. They are found from then on, also misspelt."""
    said = sorted(
        set().union(*map(words_of, drills))
    )  # in order, so that two savers never lock each other up
    known = set(Word.objects.filter(cut__in=said, cut=F("word")).values_list("word", flat=True))
    rows = [Word(cut=cut, word=word) for word in said if word not in known for cut in sorted(cuts_of(word))]
    Word.objects.bulk_create(rows, ignore_conflicts=True, batch_size=2000)


@action
def sweep_words() -> None:
    """Throw away the words that no drill says any more."""
    said: set[str] = set().union(*map(words_of, Drill.objects.only("title", "search_text").iterator()))
    known = set(Word.objects.filter(cut=F("word")).values_list("word", flat=True))
    Word.objects.filter(word__in=known - said).delete()


def _copy(model: type[Model], names: Iterable[str], rows: Iterable[tuple[object, ...]]) -> None:
    table, columns = sql.Identifier(model._meta.db_table), map(sql.Identifier, names)
    statement = sql.SQL("COPY {} ({}) FROM STDIN").format(table, sql.SQL(", ").join(columns))
    with connection.cursor() as cursor, cursor.copy(statement) as copy:
        for row in rows:
            copy.write_row(row)


@action
def rederive_drill(*, drill_id: int, made_anew: set[str] | None = None) -> None:
    """Rebuild one drill's derived rows from its current revision; footprints named in `made_anew` are fresh already."""
    drill = lock_row(Drill, drill_id)
    if drill.current_revision is None:
        return
    document = document_of(drill.current_revision)
    project(drill, document)
    drill.save()
    derive(drill, document, made_anew=set() if made_anew is None else made_anew)


def rederive_all(*, older_than: int | None = None) -> int:
    """Rebuild every drill, or those whose rows an older engine made; each in its own transaction. The number done."""
    drills = Drill.objects.order_by("pk") if older_than is None else outdated_drills(older_than=older_than)
    ids = list(drills.values_list("pk", flat=True))
    made_anew: set[str] = set()
    for drill_id in ids:
        rederive_drill(drill_id=drill_id, made_anew=made_anew)
    sweep_footprints()
    sweep_words()
    return len(ids)


@action
def sweep_footprints() -> int:
    """Throw away footprints that nothing has any more; one that is being pointed at just now is left. The number gone."""
    unused = Footprint.objects.filter(
        ~Exists(Variation.objects.filter(footprint=OuterRef("pk"))),
        ~Exists(Drill.objects.filter(footprint=OuterRef("pk"))),
    )
    locked = Footprint.objects.filter(pk__in=unused.values("pk")).select_for_update(skip_locked=True)
    ids = list(locked.values_list("pk", flat=True))
    # Looked at again under the lock: a rung may have come before it was taken, none can come after.
    gone = [each.pk for each in unused.filter(pk__in=ids)]
    Footprint.objects.filter(pk__in=gone).delete()
    return len(gone)


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
