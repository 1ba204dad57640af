"""Rows of the installation itself, and the routes that a library brings."""

from tests.access.rows import EVERYBODY, STAFF, Row

ROWS = [
    Row("healthz", EVERYBODY),
    Row("readyz", EVERYBODY, through=503),  # no worker runs in a test
    Row("manifest", EVERYBODY),
    Row("words", EVERYBODY),
    Row("styleguide", EVERYBODY),
    Row("schema", EVERYBODY),
    Row("scheme", EVERYBODY, method="post", data=lambda world, place: {"scheme": "dark"}, through=302),
    Row("tonight", STAFF),
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
