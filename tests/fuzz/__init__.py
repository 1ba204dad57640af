"""Odd values at every address of the house: nothing that anybody sends ends in a 500."""
