"""How much each wish counts for the club."""

from sessions.models import ProposalWeights


def proposal_weights() -> ProposalWeights:
    """The club's row; an unsaved one where everything counts as usual before somebody has said otherwise. One query."""
    return ProposalWeights.objects.filter(id=1).first() or ProposalWeights()
