"""Odd values at every address of the installation: nothing that anybody sends ends in a 500."""
