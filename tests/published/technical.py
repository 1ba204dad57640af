"""Constants of the pure packages that are no figures of the trade: bounds of a search, of sizes in bytes, of a drawing's ink, of units."""

TECHNICAL = (
    # bounds of what may be sent, and versions of what is kept
    "drills.game.document",
    "drills.game.notation",
    "drills.game.scene",
    "drills.game.evening:SCHEMA",
    "drills.game.fit.kept:SCHEMA",
    "sessions.planning.fold",
    # bounds of searches
    "drills.game.fit.answer",
    "drills.game.fit.refusals",
    "drills.game.fit.search",
    "drills.game.rooms",
    "sessions.planning.rotation",
    "sessions.planning.assemble.bounds",
    "sessions.planning.assemble.clash",
    "sessions.planning.assemble.explain",
    "sessions.planning.assemble.feasible",
    "sessions.planning.assemble.model",
    "sessions.planning.assemble.options",
    "sessions.planning.assemble.propose",
    "sessions.planning.assemble.quick",
    "sessions.planning.assemble.request",
    "sessions.planning.assemble.solve",
    "sessions.planning.layout.look",
    "sessions.planning.layout.margins",
    "sessions.planning.layout.place",
    "sessions.planning.laying.things:MOST_ALONE",
    # how a plan is drawn
    "drills.drawing.svg",
    "drills.drawing.paper",
    "drills.drawing.bibs",
    "drills.drawing.png",
    "drills.drawing.interception:NEVER",
    "drills.drawing.relay:LONGEST_S",
    # units and arithmetic
    "drills.game.corners",
    "drills.game.space:_LN",
    "drills.game.pitches:METRES_PER_FOOT",
    "sessions.planning.laying.model:HALF_MINUTE_S",
    "sessions.planning.load:DAYS_IN_WEEK",
)
