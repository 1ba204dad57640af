"""Pages of the library: parse, decide who may, one query or action, render."""
