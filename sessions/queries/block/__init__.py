"""Reads over the weeks of a block."""
