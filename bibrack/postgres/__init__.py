"""The embedded database's supervisor. No Django here."""


class PostgresError(RuntimeError):
    """A plain sentence for the person at the keyboard: what is wrong and what to do next."""
