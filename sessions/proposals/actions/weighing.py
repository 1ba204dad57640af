"""How much each wish counts for the club when a session is put together."""

from club.actions import action, lock_row
from club.errors import FieldProblem, Refused, Stale
from sessions.choices import HowMuch
from sessions.models import ProposalWeights


@action
def weigh_proposals(*, version: int, **words: str) -> ProposalWeights:
    """Say how much some wishes count; the others stay as they are. Proposals that were made stay too.

    Raises Stale when somebody saved before, and Refused for a word or a wish that there is not.
    """
    ProposalWeights.objects.get_or_create(id=1)
    row = lock_row(ProposalWeights, 1)
    if row.version != version:
        raise Stale(theirs=row, version=row.version)
    problems = [
        FieldProblem(name, f"One of {', '.join(HowMuch.values)}.")
        for name, word in words.items()
        if name not in ProposalWeights.WISHES or word not in HowMuch.values
    ]
    if problems:
        raise Refused(problems)
    for name, word in words.items():
        setattr(row, name, word)
    row.version += 1
    row.save()
    return row
