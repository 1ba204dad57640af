"""What all jobs share: the queues that they wait in, how often one is tried, and when its worker counts as dead."""

QUICK, SOLVER = "quick", "solver"  # short jobs; one long computation at a time
MOST_TRIES = 3  # a job that took its worker with it so often is given up
DEAD_AFTER_S = 30  # a worker that was not heard of for so long has died
