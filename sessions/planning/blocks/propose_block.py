"""A block proposed: themes and ready sessions for every slot, what each target got, how good it is, or what clashes."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, field

from sessions.planning.blocks.asked import BlockRequest, BlockTeam
from sessions.planning.blocks.block_model import BlockModel, Choices, ClashingWish
from sessions.planning.blocks.block_search import BestBlock, BlockSearch, Chosen
from sessions.planning.blocks.choices import ThemeCount, choices_of, counted, points_of, worth_of
from sessions.planning.blocks.clashing import smallest_clash
from sessions.planning.blocks.shared import kept, shared_limits
from sessions.planning.blocks.solving import WORKERS, BlockWatch, Clock, ask

CLASH_SECONDS = 5.0  # of the wall, beyond those of the search
ONE_LOOK_WORK = 2.0  # for one question of which wishes can hold together, by the solver's own count


@dataclass(frozen=True, slots=True)
class SlotProposal:
    """What a slot gets. `changed` where something else stood there before; `fixed` where the director fixed it."""

    slot: str
    team: str
    theme: str
    ready: str
    changed: bool
    fixed: bool


@dataclass(frozen=True, slots=True)
class BlockProposal:
    """The answer: every slot (in the order asked), what each team got of each target, and how good that is.

    `objective` are the points earned: `worth` (what the targets are worth in all) less what `causes` cost; no block has
    more than `bound`. `proven` says that none has more than this one, or, without slots, that none keeps all limits. Then
    `clash` names wishes that cannot hold together (empty where the time was over before any were known), and
    `clash_smallest` says that no smaller set clashes; without that, some of it may be needless. Seconds are the wall's.
    """

    slots: tuple[SlotProposal, ...] = ()
    counts: tuple[ThemeCount, ...] = ()
    objective: int | None = None
    bound: float | None = None
    proven: bool = False
    worth: int = 0
    causes: dict[str, int] = field(default_factory=dict)
    clash: tuple[ClashingWish, ...] = ()
    clash_smallest: bool = False
    seconds: float = 0.0
    workers: int = WORKERS

    @property
    def gap(self) -> float | None:
        """(bound − objective) ÷ max(1, |bound|); 0 when proven, None without an answer."""
        if self.objective is None or self.bound is None:
            return None
        return max(0.0, self.bound - self.objective) / max(1.0, abs(self.bound))

    @property
    def changes(self) -> int:
        """Slots that get something else than stood there."""
        return sum(each.changed for each in self.slots)


def propose_block(
    request: BlockRequest,
    *,
    seconds: float = 28,
    clash_seconds: float = CLASH_SECONDS,
    watch: BlockWatch | None = None,
) -> BlockProposal:
    """The best themes and ready sessions for all slots that are found within so many seconds of the wall.

    Where no block keeps all limits, `clash_seconds` more are there to name wishes that clash. `watch` is told points and
    bound as they come and may end the search, which then answers the best so far.
    """
    worth = sum(worth_of(request, each) for each in request.teams)
    clock = Clock(seconds, _of_points(watch, worth))
    teams = {each.key: each for each in request.teams}
    every = {each.key: choices_of(request, teams[each.team], each) for each in request.slots}
    if empty := [key for key, choices in every.items() if not choices]:
        clash = (ClashingWish("nothing", (empty[0],)),)
        return BlockProposal(proven=True, clash=clash, clash_smallest=True, seconds=clock.spent_s)
    allowed = {key: [each for each in choices if each.allowed] for key, choices in every.items()}
    if not all(allowed.values()):
        return _clashing(request, every, clock, clash_seconds)
    limits = shared_limits(request, allowed)
    best = BlockSearch(request, allowed, limits, clock).run()
    if best.impossible:
        return _clashing(request, every, clock, clash_seconds)
    if best.chosen is None:
        return BlockProposal(bound=worth - best.bound, worth=worth, seconds=clock.spent_s)
    assert kept(limits, best.chosen), "the choice takes more than there is"
    assert best.bound <= best.objective + 0.5, "the points are counted otherwise"
    return _answer(request, best, best.chosen, clock)


def _answer(request: BlockRequest, best: BestBlock, chosen: Chosen, clock: Clock) -> BlockProposal:
    slots = tuple(
        SlotProposal(
            each.key,
            each.team,
            chosen[each.key].theme,
            chosen[each.key].ready,
            changed=each.stands is not None
            and each.stands != (chosen[each.key].theme, chosen[each.key].ready),
            fixed=bool(each.fixed_theme or each.fixed_ready),
        )
        for each in request.slots
    )
    worth = sum(worth_of(request, each) for each in request.teams)
    counts: list[ThemeCount] = []
    causes: dict[str, int] = {}
    for team in request.teams:
        own = [chosen[each.key] for each in request.slots_of(team.key)]
        counts += counted(request, team, own)
        for cause, points in points_of(request, team, own).items():
            causes[cause] = causes.get(cause, 0) + points
    return BlockProposal(
        slots=slots,
        counts=tuple(counts),
        objective=worth - best.objective,
        bound=worth - best.bound,
        worth=worth,
        proven=best.bound >= best.objective - 0.5,  # points are whole
        causes=causes,
        seconds=clock.spent_s,
    )


def _of_points(watch: BlockWatch | None, worth: int) -> BlockWatch | None:
    """A watcher of what is missed, for one that wants to hear of points earned."""
    if watch is None:
        return None

    def told(missed: float | None, bound: float | None) -> bool:
        return watch(None if missed is None else worth - missed, None if bound is None else worth - bound)

    return told


def _clashing(request: BlockRequest, choices: Choices, clock: Clock, seconds: float) -> BlockProposal:
    """The wishes that clash: of one team where its own do, then fewer that stand between teams."""
    patience = Clock(seconds, clock.watch)
    names: tuple[ClashingWish, ...] = ()
    for team in request.teams:
        with suppress(TimeoutError):  # another team's may be easier to find
            found, _ = _clash_of(request, choices, [team], patience)
            if found and (not names or len(found) < len(names)):
                names = found
    smallest = len(names) == 1
    if not smallest:
        with suppress(TimeoutError):
            names, smallest = _clash_of(request, choices, request.teams, patience, names)
    return BlockProposal(proven=True, clash=names, clash_smallest=smallest, seconds=clock.spent_s)


def _clash_of(
    request: BlockRequest,
    choices: Choices,
    teams: Sequence[BlockTeam],
    clock: Clock,
    known: Sequence[ClashingWish] = (),
) -> tuple[tuple[ClashingWish, ...], bool]:
    """The smallest clash of some teams, and whether it is known to be; with all teams, also of what they share.

    Raises TimeoutError where none is known in time.
    """
    model = BlockModel(request, choices, named=True)
    for team in teams:
        model.add_team(team)
    if len(teams) == len(request.teams):
        model.share(shared_limits(request, choices))
    wishes = sorted(model.wishes)
    found, smallest = smallest_clash(
        len(wishes), lambda asked: _look(model, asked, clock), [wishes.index(each) for each in known]
    )
    return tuple(wishes[each] for each in found), smallest


def _look(model: BlockModel, asked: Sequence[int], clock: Clock) -> tuple[bool, Sequence[int]]:
    """Whether wishes (by their number in order) can hold together, by assumptions: with all that do, or those that cannot.

    Raises TimeoutError where that was not answered in time.
    """
    literals = [model.wishes[each] for each in sorted(model.wishes)]
    number = {literal.index: at for at, literal in enumerate(literals)}
    model.cp.clear_assumptions()
    model.cp.add_assumptions([literals[each] for each in asked])
    found = ask(model.cp, clock, work_s=ONE_LOOK_WORK)
    if found.found:
        return True, [at for at, literal in enumerate(literals) if found.solver.value(literal)]
    if not found.impossible:
        raise TimeoutError("which wishes clash")
    return False, sorted(number[each] for each in found.solver.sufficient_assumptions_for_infeasibility())
