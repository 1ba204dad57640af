"""Session templates of the club, and what a ready one is on a session's evening."""
