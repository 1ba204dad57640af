"""Pages of the club: parse, decide who may, one query or action, render."""
