"""Rows of the installation itself, and the routes that a library brings."""

from typing import Any

from tests.access.rows import DIRECTOR, EVERYBODY, STAFF, Row
from tests.people import World


def _with_a_drill(world: World) -> dict[str, Any]:
    """In a library that has a drill, where it is refused at once."""
    from tests.factories_sessions import shared_drill

    shared_drill(owner=world.people.coach)
    return {}


ROWS = [
    Row("healthz", EVERYBODY),
    Row("readyz", EVERYBODY, through=503),  # no worker runs in a test
    Row("manifest", EVERYBODY),
    Row("worker", EVERYBODY),
    Row("words", EVERYBODY),
    Row("styleguide", EVERYBODY),
    Row("schema", EVERYBODY),
    Row("scheme", EVERYBODY, method="post", data=lambda world, place: {"scheme": "dark"}, through=302),
    Row("tonight", STAFF),
    Row(
        "begin-library", DIRECTOR, method="post", data=lambda world, place: _with_a_drill(world), through=302
    ),
    Row("worked-out", DIRECTOR),
]

# Signing in, by allauth: each decides for itself. What matters of them is tested in tests/club/test_signing_in.py.
SIGNING_IN = frozenset(
    {
        "account_change_password",
        "account_confirm_email",
        "account_email",
        "account_inactive",
        "account_login",
        "account_logout",
        "account_reauthenticate",
        "account_reset_password",
        "account_reset_password_done",
        "account_reset_password_from_key",
        "account_reset_password_from_key_done",
        "account_set_password",
        "mfa_activate_totp",
        "mfa_authenticate",
        "mfa_deactivate_totp",
        "mfa_download_recovery_codes",
        "mfa_generate_recovery_codes",
        "mfa_index",
        "mfa_reauthenticate",
        "mfa_view_recovery_codes",
    }
)
