"""Measurements, printed and never asserted: `make bench`."""
