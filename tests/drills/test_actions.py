"""Drills are written, revised, adapted, approved, retired; every refusal leaves nothing behind."""

import pytest
from django.core.exceptions import PermissionDenied
from django.db import DatabaseError, connection, transaction
from django.http import Http404

from club.errors import Refused, Stale
from drills import actions, queries
from drills.models import Drill, DrillRevision, Variation
from tests.drills.people import People, acting, make
from tests.drills.samples import SMALL, WHOLE

pytestmark = pytest.mark.django_db


def test_a_new_drill_is_a_draft_with_its_first_revision_and_its_rungs(people: People) -> None:
    drill = make(people.coach)
    drill.refresh_from_db()
    assert (drill.state, drill.version, drill.owner) == ("draft", 1, people.coach)
    assert drill.current_revision is not None
    assert (drill.current_revision.number, drill.current_revision.author) == (1, people.coach)
    assert list(drill.variations.values_list("key", "rung")) == [
        ("", ""),
        ("eight", "harder"),
        ("wide", "easier"),
    ]
    assert (drill.activity, drill.format, drill.players_least) == ("possession", "5v5+2in", 12)
    assert drill.condition_kinds == ["goals open", "phase", "seconds to score", "through a gate", "touches"]


def test_a_wrong_document_leaves_nothing_behind(people: People) -> None:
    with pytest.raises(Refused) as caught:
        make(people.coach, format="4v")
    assert [each.field for each in caught.value.problems] == ["format"]
    assert Drill.objects.count() == 0


@pytest.mark.parametrize("who", ["helper", "reader", "stranger"])
def test_only_coaches_and_directors_write(people: People, who: str) -> None:
    with pytest.raises(PermissionDenied):
        make(getattr(people, who))


def test_a_revision_is_added_and_the_derived_rows_follow(people: People, draft: Drill) -> None:
    changed = {**WHOLE, "title": "Renamed", "variations": WHOLE["variations"][:1]}
    drill = actions.revise_drill(
        actor=acting(people.coach), public_id=draft.public_id, version=1, document=changed, note="shorter"
    )
    assert (drill.title, drill.version) == ("Renamed", 2)
    assert list(drill.revisions.values_list("number", "drill_version", "note")) == [
        (1, 1, ""),
        (2, 2, "shorter"),
    ]
    assert list(drill.variations.values_list("key", flat=True)) == ["", "eight"]


def test_saving_what_is_there_already_makes_no_revision(people: People, draft: Drill) -> None:
    same = {**WHOLE, "title": "Secret Draft"}
    drill = actions.revise_drill(
        actor=acting(people.coach), public_id=draft.public_id, version=1, document=same
    )
    assert (drill.version, drill.revisions.count()) == (1, 1)


def test_a_stale_save_gets_theirs_and_the_base(people: People, draft: Drill) -> None:
    mine, theirs = {**WHOLE, "title": "Mine"}, {**WHOLE, "title": "Theirs"}
    actions.revise_drill(actor=acting(people.director), public_id=draft.public_id, version=1, document=theirs)
    with pytest.raises(Stale) as caught:
        actions.revise_drill(actor=acting(people.coach), public_id=draft.public_id, version=1, document=mine)
    assert (caught.value.theirs.title, caught.value.base.title, caught.value.version) == (
        "Theirs",
        "Secret Draft",
        2,
    )
    draft.refresh_from_db()
    assert draft.title == "Theirs"


def test_an_edit_that_makes_a_variation_inapplicable_names_it(people: People, draft: Drill) -> None:
    with pytest.raises(Refused, match="Eight seconds"):
        actions.revise_drill(
            actor=acting(people.coach),
            public_id=draft.public_id,
            version=1,
            document={**WHOLE, "conditions": []},
        )
    assert draft.revisions.count() == 1


def test_adapting_keeps_the_lineage_and_the_other_drill(people: People, shared: Drill) -> None:
    mine = actions.adapt_drill(actor=acting(people.other), public_id=shared.public_id, title="My gates")
    assert (mine.owner, mine.state, mine.title) == (people.other, "draft", "My gates")
    assert mine.adapted_from_revision == shared.current_revision
    shared.refresh_from_db()
    assert (shared.title, shared.version) == ("Shared Gates", 2)


def test_an_adapted_drill_is_told_apart_by_its_title(people: People, shared: Drill) -> None:
    other = acting(people.other)
    first = actions.adapt_drill(actor=other, public_id=shared.public_id)
    second = actions.adapt_drill(actor=other, public_id=first.public_id)
    assert [first.title, second.title] == [f"{shared.title}, adapted"] * 2
    long = make(people.other, title="L" * 80)
    assert actions.adapt_drill(actor=other, public_id=long.public_id).title == "L" * 71 + ", adapted"


def test_somebody_elses_draft_can_not_be_adapted_or_revised(people: People, draft: Drill) -> None:
    with pytest.raises(Http404):
        actions.adapt_drill(actor=acting(people.other), public_id=draft.public_id)
    with pytest.raises(Http404):
        actions.revise_drill(actor=acting(people.other), public_id=draft.public_id, version=1, document=WHOLE)


def test_review_needs_what_another_coach_would_miss(people: People) -> None:
    drill = make(people.coach, say_this=[], questions=[])
    with pytest.raises(Refused) as caught:
        actions.send_for_review(actor=acting(people.coach), public_id=drill.public_id)
    assert [each.field for each in caught.value.problems] == ["say_this", "questions"]
    drill.refresh_from_db()
    assert drill.state == "draft"


def test_from_draft_to_club_standard_and_back(people: People, shared: Drill) -> None:
    director = acting(people.director)
    with pytest.raises(PermissionDenied):
        actions.approve_drill(actor=acting(people.coach), public_id=shared.public_id)
    drill = actions.approve_drill(actor=director, public_id=shared.public_id, note="clear and safe")
    assert (drill.state, drill.state_note) == ("club standard", "clear and safe")
    with pytest.raises(Http404):  # its owner may no longer change the club's standard
        actions.revise_drill(
            actor=acting(people.coach), public_id=shared.public_id, version=drill.version, document=WHOLE
        )
    assert (
        actions.return_to_draft(actor=director, public_id=shared.public_id, note="one more rung").state
        == "draft"
    )


def test_retiring_takes_it_off_the_shelf_and_back(people: People, shared: Drill) -> None:
    coach = acting(people.coach)
    assert actions.retire_drill(actor=coach, public_id=shared.public_id).retired_at is not None
    with pytest.raises(Http404):
        actions.revise_drill(actor=coach, public_id=shared.public_id, version=3, document=WHOLE)
    assert actions.unretire_drill(actor=coach, public_id=shared.public_id).retired_at is None
    with pytest.raises(PermissionDenied):
        actions.retire_drill(actor=acting(people.other), public_id=shared.public_id)


def test_a_revision_can_neither_be_changed_nor_deleted(draft: Drill) -> None:
    with pytest.raises(DatabaseError, match="Cannot update or delete"), transaction.atomic():
        DrillRevision.objects.update(note="rewritten")
    with pytest.raises(DatabaseError, match="Cannot update or delete"), transaction.atomic():
        DrillRevision.objects.all()._raw_delete("default")
    assert DrillRevision.objects.get().note == ""


def test_the_drills_own_columns_have_a_history(people: People, shared: Drill) -> None:
    states = list(
        Drill.pgh_event_model.objects.filter(pgh_obj=shared)
        .order_by("pgh_id")
        .values_list("state", flat=True)
    )
    assert states[-1] == "for review"
    assert "draft" in states


def test_rederiving_brings_back_what_was_lost(people: People, draft: Drill) -> None:
    def derived() -> list[tuple]:
        return list(
            Variation.objects.order_by("position").values_list("key", "title", "effort", "condition_kinds")
        )

    before = derived()
    Variation.objects.all().delete()
    Drill.objects.update(title="lost", theme_keys=[], search_text="")
    assert actions.rederive_all() == 1
    draft.refresh_from_db()
    assert (draft.title, draft.theme_keys) == ("Secret Draft", ["keep-the-ball"])
    assert derived() == before


def test_an_import_takes_each_row_whole_once_or_not_at_all(people: People) -> None:
    rows = [{"document": WHOLE}, SMALL, {**SMALL, "format": "4v"}, "nonsense", WHOLE]
    found = actions.import_drills(actor=acting(people.coach), data={"schema_version": 1, "drills": rows})
    assert [each.outcome for each in found] == ["created", "created", "refused", "refused", "duplicate"]
    assert [each.field for each in found[2].problems] == ["format"]
    assert found[4].public_id == found[0].public_id
    assert Drill.objects.count() == 2
    assert set(Drill.objects.values_list("state", flat=True)) == {"draft"}


def test_a_file_of_version_1_opens_and_a_row_that_says_nothing_is_of_the_files_version(
    people: People,
) -> None:
    old = {**SMALL, "age_from": 8, "age_to": 10}
    rows = [
        {"document": {**old, "schema_version": 1}},
        {**old, "title": "Says Nothing"},
        {**old, "schema_version": 2},
    ]
    found = actions.import_drills(actor=acting(people.coach), data={"schema_version": 1, "drills": rows})
    assert [each.outcome for each in found] == ["created", "created", "refused"]
    assert set(Drill.objects.values_list("under_from", "under_to")) == {(9, 11)}


def test_a_revision_of_version_1_is_read_and_never_rewritten(people: People, draft: Drill) -> None:
    document = {**SMALL, "schema_version": 1, "age_from": 8, "age_to": 10}
    old = DrillRevision.objects.create(
        drill=draft, number=2, drill_version=2, document=document, schema_version=1, sha256="1" * 64
    )
    Drill.objects.filter(pk=draft.pk).update(current_revision=old)
    assert actions.rederive_all() == 1
    draft.refresh_from_db()
    assert (draft.under_from, draft.under_to) == (9, 11)
    old.refresh_from_db()
    assert (old.document, old.schema_version) == (document, 1)
    found = queries.station_drill(DrillRevision.objects.select_related("drill").get(pk=old.pk))
    assert (found.document.under_from, found.document.under_to) == (9, 11)


@pytest.mark.parametrize("data", [5, {"drills": 5}, {"schema_version": 9, "drills": []}, [SMALL] * 5001])
def test_a_file_that_is_none_is_refused_as_a_whole(people: People, data: object) -> None:
    with pytest.raises(Refused):
        actions.import_drills(actor=acting(people.coach), data=data)
    assert Drill.objects.count() == 0


def test_only_a_directors_import_keeps_the_states(people: People) -> None:
    row = {"document": SMALL, "state": "club standard"}
    actions.import_drills(actor=acting(people.coach), data=[row])
    assert Drill.objects.get().state == "draft"
    actions.import_drills(
        actor=acting(people.director), data=[{**row, "document": {**SMALL, "title": "Other"}}]
    )
    assert Drill.objects.get(title="Other").state == "club standard"


def test_the_words_column_is_stored_and_kept_by_the_database(draft: Drill) -> None:
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT attgenerated FROM pg_attribute WHERE attrelid = 'drills_drill'::regclass AND attname = 'words'"
        )
        assert cursor.fetchone() == ("s",)
