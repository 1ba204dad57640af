"""How good a session with a given option can be at best: so that almost all options are put aside before solving.

The limits on sums, and "each drill once", are priced (Lagrange multipliers: a price for each minute, AU …, and for each
drill that is wanted twice) instead of held. What remains is a chain: a part's option, and what it shares with the part before (its cones, and
whether effort rose or fell). A chain is solved exactly from both ends, which gives for every option the best priced
session that contains it. For any prices of at least 0 that is an upper bound on the real ones, so an option whose
bound does not reach a session already found cannot be part of a better one. Prices only decide how tight it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sessions.planning.assemble.options import ALONE, POINT, Option
from sessions.planning.assemble.request import Request
from sessions.planning.assemble.totals import Choice, curve_points, kept, near_cones, totals

# The first guess of how far the priced session is above the best real one, as a share; halved when rounds bring nothing.
FIRST_GAP = 0.25
PATIENCE = 3
DRILL_SCALE = 0.03


class Priced:
    """Prices for a request's limits on sums, improved in rounds. `extra` are further upper limits: (values, most)."""

    def __init__(
        self,
        request: Request,
        parts: Sequence[Sequence[Option]],
        extra: Sequence[tuple[Sequence[Sequence[int]], int]] = (),
    ) -> None:
        import numpy as np

        self.np: Any = np
        self.request, self.parts = request, parts
        self.saved_minutes = request.changeover_minutes - request.same_cones_minutes
        self.move = round(POINT * request.weights.moves)
        efforts = sorted({option.effort for options in parts for option in options})
        cones = sorted({ALONE}.union(*near_cones(parts)))
        place_e = {effort: at for at, effort in enumerate(efforts)}
        place_k = {each: at for at, each in enumerate(cones)}
        self.shape = (len(cones), len(efforts))
        self.effort = [np.array([place_e[o.effort] for o in options]) for options in parts]
        self.cones = [np.array([place_k.get(o.cones, 0) for o in options]) for options in parts]
        self.score = [np.array([o.score for o in options], dtype=float) for options in parts]
        apart = np.subtract.outer(np.array(efforts), np.array(efforts)) * float(curve_points(request))
        # [past the peak or not][effort before][effort after]: what a fall before the peak, or a rise after it, costs
        self.curve = np.stack([np.maximum(apart, 0), np.maximum(-apart, 0)])
        self._limits(extra)
        self.drills = [np.array([o.drill for o in options]) for options in parts]
        self.once = request.holds("once")
        self.prices = np.zeros(len(self.most))
        self.drill_prices = np.zeros(1 + max((o.drill for options in parts for o in options), default=0))
        self.bound = float("inf")
        self.best: Choice = ()
        self.best_score: int | None = None

    def _limits(self, extra: Sequence[tuple[Sequence[Sequence[int]], int]]) -> None:
        """One column an option for each limit, what is left for the parts, and what cones that stay save."""
        np, request = self.np, self.request
        steps, full = len(self.parts) - 1, request.changeover_minutes
        load = request.changeover_load_tenths
        rows: list[tuple[str, int | None, int, int]] = [
            ("minutes", request.minutes, request.clear_minutes + full * steps, self.saved_minutes),
            ("load", request.most_load_tenths, load * full * steps, load * self.saved_minutes),
            ("headers", request.headers, 0, 0),
            ("set_up", request.set_up_minutes, 0, 0),
            ("in_play_all", 0, 0, 0),
        ]
        held = [
            (n, most - fixed, save) for n, most, fixed, save in rows if most is not None and request.holds(n)
        ]
        columns: list[Sequence[Sequence[int]]] = [
            [[getattr(o, name) for o in options] for options in self.parts] for name, _, _ in held
        ]
        columns += [values for values, _ in extra]
        self.uses = [
            np.array([column[part] for column in columns], dtype=float).reshape(len(columns), -1)
            for part in range(len(self.parts))
        ]
        self.most = np.array([left for _, left, _ in held] + [most for _, most in extra], dtype=float)
        self.saves = np.array([save for _, _, save in held] + [0] * len(extra), dtype=float)
        names = [name for name, _, _ in held]
        self.set_up = names.index("set_up") if "set_up" in names else None
        self.in_play_all = names.index("in_play_all") if "in_play_all" in names else None

    # --- one round -------------------------------------------------------------------------------------------

    def _price(self) -> None:
        """Every option's score less what it uses at these prices; and where its cones stood already."""
        self.net = [
            score - self.prices @ uses - self.drill_prices[drills]
            for score, uses, drills in zip(self.score, self.uses, self.drills, strict=True)
        ]
        bonus = self.move + self.prices @ self.saves
        self.net_stay = [net + bonus for net in self.net]
        if self.set_up is not None:
            price = self.prices[self.set_up]
            self.net_stay = [
                net + price * uses[self.set_up] for net, uses in zip(self.net_stay, self.uses, strict=True)
            ]
        self.fixed = float(self.prices @ self.most + self.drill_prices.sum()) - self.move * (
            len(self.parts) - 1
        )

    def _top(self, part: int, values: Any) -> Any:
        """The best value for each pair of cones and effort."""
        top = self.np.full(self.shape, -self.np.inf)
        self.np.maximum.at(top, (self.cones[part], self.effort[part]), values)
        return top

    def _after(self) -> list[Any]:
        """For each part, [past][cones][effort]: the best of the parts that follow."""
        np = self.np
        rest = [np.zeros((2, *self.shape))]
        for part in range(len(self.parts) - 1, 0, -1):
            new, stay = (self._top(part, net) + rest[0] for net in (self.net[part], self.net_stay[part]))
            stay[:, 0] = -np.inf  # cones that nothing else uses cannot stay
            # [past][effort before], and with the cones that stay
            moved = (new.max(axis=1)[:, None, :] - self.curve).max(axis=2)
            stayed = (stay[:, :, None, :] - self.curve[:, None]).max(axis=3)
            best = np.maximum(moved[:, None, :], stayed)
            best[0] = best.max(axis=0)  # once past the peak, always past it
            rest.insert(0, best)
        return rest

    def _before(self) -> list[tuple[Any, Any]]:
        """For each part, [past][effort] and [past][cones][effort]: the best so far where cones move or stay."""
        np = self.np
        nothing = np.full((2, *self.shape), -np.inf)
        found = [(np.zeros((2, self.shape[1])), nothing)]
        for part in range(len(self.parts) - 1):
            moved, stayed = found[-1]
            so_far = np.maximum(
                self._top(part, self.net[part]) + moved[:, None, :],
                self._top(part, self.net_stay[part]) + stayed,
            )
            so_far[1] = so_far.max(axis=0)
            new = (so_far.max(axis=1)[:, :, None] - self.curve).max(axis=1)
            stay = (so_far[:, :, :, None] - self.curve[:, None]).max(axis=2)
            stay[:, 0] = -np.inf
            found.append((new, stay))
        return found

    def _path(self, rest: list[Any]) -> tuple[float, list[int]]:
        """The best priced session: its value, and the place of each part's option."""
        np = self.np
        worth = self.net[0] + rest[0][0][self.cones[0], self.effort[0]]
        value, path, past = float(worth.max()), [int(worth.argmax())], 0
        for part in range(1, len(self.parts)):
            cones, effort = (each[part - 1][path[-1]] for each in (self.cones, self.effort))
            stays = (self.cones[part] == cones) & (cones != 0)
            net = np.where(stays, self.net_stay[part], self.net[part])
            each = [
                net
                - self.curve[to][effort, self.effort[part]]
                + rest[part][to][self.cones[part], self.effort[part]]
                for to in range(past, 2)
            ]
            past += int(each[-1].max() > each[0].max())
            path.append(int(each[-1 if past else 0].argmax()))
        return value + self.fixed, path

    def _over(self, path: list[int]) -> Any:
        """By how much a session goes over each limit (below 0 where something is left)."""
        used = sum(uses[:, at] for uses, at in zip(self.uses, path, strict=True)) - self.most
        for part in range(1, len(path)):
            cones = self.cones[part][path[part]]
            if cones and cones == self.cones[part - 1][path[part - 1]]:
                used -= self.saves
                if self.set_up is not None:
                    used[self.set_up] -= self.uses[part][self.set_up, path[part]]
        return used

    # --- all rounds ------------------------------------------------------------------------------------------

    def improve(self, rounds: int) -> None:
        """Find good prices: dearer what the priced session has too much of (subgradient steps)."""
        np = self.np
        best, gap, waited = (self.prices, self.drill_prices), FIRST_GAP, 0
        scale = np.maximum(1.0, np.abs(self.most))
        if self.in_play_all is not None:
            scale[self.in_play_all] = (
                POINT * self.request.minutes
            )  # its limit is 0: no measure of what is much
        for _ in range(rounds):
            self._price()
            value, path = self._path(self._after())
            self._remember(path)
            if value < self.bound - 1e-6:
                best, self.bound, waited = (self.prices, self.drill_prices), value, 0
            elif (waited := waited + 1) >= PATIENCE:
                (self.prices, self.drill_prices), gap, waited = best, gap / 2, 0
                continue
            over, twice = self._over(path) / scale, self._twice(path) * DRILL_SCALE
            steep = float(over @ over + twice @ twice)
            if steep < 1e-12:
                break
            step = max(value - (1 - gap) * self.bound, gap * abs(self.bound) / 4) / steep
            self.prices = np.maximum(0.0, self.prices + step * over / scale)
            self.drill_prices = np.maximum(0.0, self.drill_prices + step * DRILL_SCALE * twice)
        self.prices, self.drill_prices = best
        self._price()

    def _twice(self, path: list[int]) -> Any:
        """How often a drill is used beyond once; a drill with a price that is not used goes down again."""
        if not self.once:
            return self.np.zeros_like(self.drill_prices)
        used = self.np.zeros_like(self.drill_prices)
        for drills, at in zip(self.drills, path, strict=True):
            used[drills[at]] += 1
        return self.np.where((self.drill_prices > 0) | (used > 1), used - 1, 0.0)

    def _remember(self, path: list[int]) -> None:
        """A priced session that happens to keep every limit is one already found."""
        choice: Choice = tuple(options[at] for options, at in zip(self.parts, path, strict=True))
        if self._over(path).max(initial=0.0) <= 0 and kept(self.request, choice):
            score = totals(self.request, choice).score
            if self.best_score is None or score > self.best_score:
                self.best_score, self.best = score, choice

    def bounds(self) -> list[Any]:
        """By part and option the score that no session with it can exceed at the best prices, in thousandths of a point."""
        np = self.np
        rest, before = self._after(), self._before()
        found = []
        for part, (moved, stayed) in enumerate(before):
            k, e = self.cones[part], self.effort[part]
            each = [
                np.maximum(self.net[part] + moved[to][e], self.net_stay[part] + stayed[to][k, e])
                + rest[part][to][k, e]
                for to in range(2)
            ]
            found.append(np.maximum(*each) + self.fixed)
        return found
