"""What was chosen, as the library has it: how each drill is run."""

from typing import Any
from uuid import UUID

from club.actor import Actor
from drills import queries as drills
from drills.game.document.content import Work
from drills.game.variations import played
from drills.queries import StationDrill
from sessions.planning.assemble import Proposal
from sessions.proposals.queries.request import kept_rung


def runs_of(actor: Actor, proposal: Proposal) -> dict[str, Work]:
    """How each offer that a proposal or one of its alternatives chose is run, by its key. Two queries; none for nothing."""
    sessions = [*([proposal.session] if proposal.session else []), *proposal.alternatives]
    offers = {part.offer.key: part.offer for each in sessions for part in each.parts}
    fresh = {key: each for key, each in offers.items() if not each.variation.startswith(kept_rung(""))}
    if not fresh:
        return {}
    documents = documents_of(actor, (each.drill for each in fresh.values()))
    return {
        key: played(documents[each.drill].document, each.variation).work
        for key, each in fresh.items()
        if each.drill in documents
    }


def documents_of(actor: Actor, drill_ids: Any) -> dict[str, StationDrill]:
    """What a station would play now, by the drill's outer id; what this person may not use is left out. Two queries."""
    revisions = drills.current_revisions([UUID(each) for each in drill_ids], actor)
    found = drills.documents(revisions.values())
    return {str(drill): found[revision] for drill, revision in revisions.items()}
