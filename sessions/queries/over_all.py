"""What is counted of a session with all that it is together with: players of all against adults of all, each adult once."""

from dataclasses import dataclass

from club import queries as club
from sessions.models import TrainingSession
from sessions.planning.supervision import AdultRule, adults_needed, stricter
from sessions.queries.adults import counted_pks
from sessions.queries.guides import adult_rule, adult_rule_for
from sessions.queries.rows import staff_rows_of
from sessions.queries.set_up import looked_after_tonight
from sessions.queries.together import Companion, companions


@dataclass(frozen=True)
class OverAll:
    """Players to look after, adults who count on the day, and the figure in force for the youngest of them all."""

    players: int
    adults: int
    rule: AdultRule | None

    @property
    def needed(self) -> int:
        """Adults whom the players need at all times."""
        return adults_needed(self.players, self.rule)


def over_all(session: TrainingSession) -> OverAll:
    """A session by itself where it is together with nobody. No query where it was read with its frame."""
    others = companions(session)
    adults = counted_pks(staff_rows_of(session), session.day).union(
        *(counted_pks(each.staff, session.day) for each in others)
    )
    rules = [adult_rule_for(session.age_group, session.day), *(_rule(each, session) for each in others)]
    return OverAll(
        players=looked_after_tonight(session) + sum(each.players for each in others),
        adults=len(adults),
        rule=stricter(rules),
    )


def own_crew(session: TrainingSession) -> int:
    """How many adults lay kit for this session; over all that it is together with it comes to `over_all(session).adults`.

    Nobody lays in two places at once: who is down for several counts for the one that has the fewest, in order of their
    ids, so that each of the sessions comes to the same. No query where it was read with its frame.
    """
    down = {str(session.public_id): counted_pks(staff_rows_of(session), session.day)}
    down |= {each.id: counted_pks(each.staff, session.day) for each in companions(session)}
    by_person: dict[int, list[str]] = {}
    for key, people in sorted(down.items()):
        for person in people:
            by_person.setdefault(person, []).append(key)
    crew = dict.fromkeys(down, 0)
    for _person, keys in sorted(by_person.items(), key=lambda row: (len(row[1]), row[0])):
        crew[min(keys, key=lambda key: (crew[key], key))] += 1
    return crew[str(session.public_id)]


def _rule(other: Companion, session: TrainingSession) -> AdultRule | None:
    return adult_rule(club.guidelines_of(other.ages, other.match_format, session.day))
