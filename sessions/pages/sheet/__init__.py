"""A session gathered for paper."""

from sessions.queries.sheet.gather import session_sheet

__all__ = ["session_sheet"]
