"""`make mutants`: small faults put into a copy of the source, one at a time, each against the tests that come to its line."""
