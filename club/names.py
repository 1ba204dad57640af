"""Names of people and teams within plain text."""

import unicodedata

FIRST_STRONG, POP = "\u2068", "\u2069"  # Unicode Annex 9: FIRST STRONG ISOLATE, POP DIRECTIONAL ISOLATE
FROM_THE_RIGHT = frozenset({"R", "AL"})


def apart(name: str) -> str:
    """A name for a sentence: one with letters written from right to left is isolated, so that it turns nothing else round."""
    if any(unicodedata.bidirectional(letter) in FROM_THE_RIGHT for letter in name):
        return f"{FIRST_STRONG}{name}{POP}"
    return name
