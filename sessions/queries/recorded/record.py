"""What was recorded of a session that is done: who came, and what it put into the ledger."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sessions import bridge
from sessions.choices import TOOK_PLACE, Attendance
from sessions.models import LedgerEntry, Register, TrainingSession
from sessions.planning.account import Account, account
from sessions.planning.fold import DeliveryState
from sessions.planning.plan import SessionPlan
from sessions.planning.rotation.as_run import WhoPlayed
from sessions.queries.recorded.apart import WordOfPhone, words_apart
from sessions.queries.recorded.as_run import plan_as_planned, plan_as_run
from sessions.queries.recorded.in_play import known_as, parts_played


@dataclass(frozen=True)
class SessionRecord:
    """The state that the events left, the account of what was run, the team's entry, and the register by name."""

    state: DeliveryState
    plan: SessionPlan  # as it was planned
    run: SessionPlan  # with what was played
    account: Account
    entry: LedgerEntry
    register: list[Register] = field(default_factory=list)
    who_played: Mapping[str, WhoPlayed] = field(default_factory=dict)  # of each part that was run, by its key
    apart: Mapping[str, list[WordOfPhone]] = field(default_factory=dict)  # where phones said otherwise

    @property
    def came(self) -> int:
        """How many came, those who watched and those who try out among them."""
        return sum(each.state != Attendance.ABSENT for each in self.register) + len(self.state.trialists)


def session_record(session: TrainingSession, plan: SessionPlan) -> SessionRecord | None:
    """None unless the session is done and its events say so. Three queries, one more where phones said otherwise."""
    state = bridge.state_of(session)
    if state is None or session.state not in TOOK_PLACE:
        return None
    entry = LedgerEntry.objects.filter(session=session, player__isnull=True).first()
    if entry is None:
        return None
    register = Register.objects.filter(session=session).select_related("player")
    as_run = plan_as_run(session, plan, state)
    ran = account(as_run, state)
    return SessionRecord(
        state=state,
        plan=plan_as_planned(session, plan),
        run=as_run,
        account=ran,
        entry=entry,
        register=list(register.order_by("is_guest", "player__display_name", "pk")),
        who_played=known_as(parts_played(session, as_run, ran, state)),
        apart=words_apart(session, state),
    )
