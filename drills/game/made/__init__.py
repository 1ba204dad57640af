"""Whole documents made of something smaller: a run of one night, or what a coach says in a minute."""
