"""What is tested here does not depend on how fast a machine is: all questions have minutes, and need a moment."""

from functools import partial

from sessions.planning.blocks import find_cover, mend_ground, propose_block

PATIENCE_S = 600
propose = partial(propose_block, seconds=PATIENCE_S, clash_seconds=PATIENCE_S)
mend = partial(mend_ground, seconds=PATIENCE_S)
cover = partial(find_cover, seconds=PATIENCE_S)
