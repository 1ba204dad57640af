"""Which margins to try around the grids of a part, the widest first; the metres are those of `drills.game.margins`."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

from drills.game.margins import RUN_OFF_LEAST_M, RUN_OFF_WISHED_M
from drills.game.space import Edge


@dataclass(frozen=True, slots=True)
class Margins:
    """Run-off in whole metres along the ground and across, and whether the ground behind goals reaches no other group."""

    along_m: int
    across_m: int
    behind_groups: bool = True

    def run_off_m(self, edge: Edge) -> int:
        """Metres that are kept from this edge where it is not open."""
        return self.along_m if edge in ("left", "right") else self.across_m

    @property
    def least_m(self) -> int:
        """The smaller of the two run-offs."""
        return min(self.along_m, self.across_m)

    @property
    def short_m2(self) -> int:
        """As Fit has it: the squares of the metres less than wished, along and across, added."""
        return (RUN_OFF_WISHED_M - self.along_m) ** 2 + (RUN_OFF_WISHED_M - self.across_m) ** 2


_METRES = range(RUN_OFF_WISHED_M, RUN_OFF_LEAST_M - 1, -1)
# A narrow run-off is better than a ball shot at another group.
LADDER: tuple[Margins, ...] = tuple(
    sorted(
        (
            Margins(along, across, behind)
            for behind in (True, False)
            for along, across in product(_METRES, _METRES)
        ),
        key=lambda each: (not each.behind_groups, each.short_m2, -each.along_m),
    )
)
WISHED, LEAST = LADDER[0], LADDER[-1]
