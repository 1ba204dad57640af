"""Every rule that the database holds for two people at once has its sentence, and every action says it."""

import ast
from pathlib import Path

import pytest
from django.apps import apps
from django.db import connection

from club.actions.conflicts import sentences

APPS = ("club", "drills", "sessions")
# Nobody's typing: random ids and secrets, rows under the lock of what they belong to, or taken by "on conflict".
NEVER_MET = {
    *("public_id", "secret_hash", "fingerprint"),
    *("revision_number_once", "variation_key_once", "variation_place_once", "word_cut_once"),
    *("part_position_once", "event_taken_once", "event_seq_dense", "player_once_on_a_register"),
    *("one_rating_each", "session_once_in_the_ledger"),
    # Asked for again and found: get_or_create, update_or_create, and the one open proposal.
    *("favourite_once", "idempotency_key_once", "station_id", "one_open_computation_each"),
    # Numbered as they are written, of a row that is new.
    "template_station_once",
}


@pytest.mark.django_db
def test_every_unique_rule_has_its_sentence() -> None:
    """As the database has them, so that none is forgotten: unique and exclusion constraints, and unique indexes."""
    tables = [model._meta.db_table for label in ("club", "drills", "training") for model in _models(label)]
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT i.relname FROM pg_index x JOIN pg_class i ON i.oid = x.indexrelid"
            " JOIN pg_class t ON t.oid = x.indrelid"
            " WHERE t.relname = ANY(%s) AND (x.indisunique OR x.indisexclusion) AND NOT x.indisprimary",
            [tables],
        )
        found = {name for (name,) in cursor.fetchall()}
    never = {f"{table}_{each}_key" for table in tables for each in NEVER_MET} | NEVER_MET
    assert len(found) > 30
    assert found - never - set(sentences()) == set()


def _models(label: str) -> list:
    return list(apps.get_app_config(label).get_models())


@pytest.mark.parametrize("app", APPS)
def test_no_action_goes_round_the_words(app: str) -> None:
    """`@action` instead of a bare transaction, and no lock that reads joined rows."""
    files = sorted(Path(app, "actions").glob("**/*.py"))
    assert len(files) > 4
    for file in files:
        for node in ast.walk(ast.parse(file.read_text())):
            if isinstance(node, ast.FunctionDef):
                bare = [ast.unparse(each) for each in node.decorator_list if "atomic" in ast.unparse(each)]
                assert not bare, f"{file}: {node.name}"
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                text = ast.unparse(node)
                both = "select_for_update" in text and "select_related" in text
                assert not both, f"{file}:{node.lineno} locks and joins"
