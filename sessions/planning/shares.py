"""How large a share is, in a coach's words: "a third", "nearly a fifth". The words stand in the catalogue."""

from __future__ import annotations

from sessions.planning.catalogue.shares import ALL, LITTLE, SHARES
from sessions.planning.numbers import at_least

# How far off a round share may be to be said as one: ours, a judgement.
NEAR = 0.015
LITTLE_BELOW = 0.06


def share_words(part: float, whole: float) -> str:
    """`part` ÷ `whole` as the nearest plain fraction: `a third`, `nearly half`, `just over a quarter`; from 1 on `all`.

    Between two fractions the nearer one is said; within 1.5 hundredths it is said as it is. ValueError for a whole of 0.
    """
    at_least("part", part, 0)
    if whole <= 0:
        raise ValueError(f"whole: more than 0, not {whole}")
    share = part / whole
    if share >= 1 - 1e-9:
        return ALL
    if share < LITTLE_BELOW:
        return LITTLE
    fraction, below, exact, above = min(SHARES, key=lambda row: abs(row[0] - share))
    if abs(share - fraction) <= NEAR:
        return exact
    return below if share < fraction else above
