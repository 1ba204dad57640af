"""Links to a session: those that are open, and the session that one shows."""

from django.http import Http404

from club import queries as club
from sessions.models import SessionLink, TrainingSession
from sessions.queries.rows import session_by_id


def links_of(session: TrainingSession) -> list[club.LinkRow]:
    """The links to a session that are open. One query."""
    return club.link_rows(session.share_links.all())


def session_of_link(secret: str) -> TrainingSession:
    """The session that a link shows now. Four queries. Raises Http404, which does not tell expired from unknown."""
    link = club.link_with(SessionLink.objects.select_related("session"), secret)
    session = session_by_id(link.session.public_id) if link else None
    if session is None:
        raise Http404
    return session
