"""A session gathered for paper."""
