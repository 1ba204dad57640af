"""Letters that nobody sees and that turn round what stands beside them. No Django here: the pure packages use it too.

Names that are written from right to left are as good as others. Where one is put into a line with others it is isolated,
so that a number beside it stays where it was put. What only turns text round is refused where it is typed.
"""

import unicodedata

# Embeddings, overrides and isolates of the Unicode Bidirectional Algorithm (UAX #9, 2.1 to 2.5), with what ends them.
TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# Controls of C0 and C1, and the two that end a line or a paragraph.
NOT_IN_A_LINE = frozenset({"Cc", "Zl", "Zp"})
RIGHT_TO_LEFT = frozenset({"R", "AL"})
FIRST_STRONG_ISOLATE, POP_ISOLATE = "\u2068", "\u2069"


def turns_round(text: str) -> bool:
    """Whether a text holds letters that turn its neighbours round."""
    return not text.isascii() and not TURNING.isdisjoint(text)


def is_plain_line(text: str) -> bool:
    """Whether a text can stand in a line: nothing in it breaks the line, rings a bell or turns text round."""
    if text.isprintable():  # excludes all of these
        return True
    return not any(each in TURNING or unicodedata.category(each) in NOT_IN_A_LINE for each in text)


def isolated(text: str) -> str:
    """The text as it can stand beside others: wrapped where it holds letters that run from right to left."""
    if text.isascii() or not any(unicodedata.bidirectional(each) in RIGHT_TO_LEFT for each in text):
        return text
    return f"{FIRST_STRONG_ISOLATE}{text}{POP_ISOLATE}"
