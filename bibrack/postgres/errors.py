"""What the keeper of the database says when it cannot go on."""


class PostgresError(RuntimeError):
    """A plain sentence for the person at the keyboard: what is wrong and what to do next."""
