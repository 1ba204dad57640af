"""What was recorded of a session that is done: who came, and what it put into the ledger."""

from dataclasses import dataclass, field

from sessions import bridge
from sessions.choices import TOOK_PLACE, Attendance
from sessions.models import LedgerEntry, Register, TrainingSession
from sessions.planning.account import Account, account
from sessions.planning.fold import DeliveryState
from sessions.planning.plan import SessionPlan
from sessions.queries.recorded.as_run import plan_as_planned, plan_as_run


@dataclass(frozen=True)
class SessionRecord:
    """The state that the events left, the account of what was run, the team's entry, and the register by name."""

    state: DeliveryState
    plan: SessionPlan  # as it was planned
    run: SessionPlan  # with what was played
    account: Account
    entry: LedgerEntry
    register: list[Register] = field(default_factory=list)

    @property
    def came(self) -> int:
        """How many came, those who watched and those who try out among them."""
        return sum(each.state != Attendance.ABSENT for each in self.register) + len(self.state.trialists)


def session_record(session: TrainingSession, plan: SessionPlan) -> SessionRecord | None:
    """None unless the session is done and its events say so. Two queries."""
    state = bridge.state_of(session)
    if state is None or session.state not in TOOK_PLACE:
        return None
    entry = LedgerEntry.objects.filter(session=session, player__isnull=True).first()
    if entry is None:
        return None
    register = Register.objects.filter(session=session).select_related("player")
    as_run = plan_as_run(session, plan, state)
    return SessionRecord(
        state=state,
        plan=plan_as_planned(session, plan),
        run=as_run,
        account=account(as_run, state),
        entry=entry,
        register=list(register.order_by("is_guest", "player__display_name", "pk")),
    )
