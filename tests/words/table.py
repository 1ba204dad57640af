"""Words that no page, sheet, message or answer may show, and what is said instead: one thing has one name everywhere.

Patterns are whole words, capitals or not. What an exception lets through has its reason beside it.
"""

import re
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Rule:
    """A pattern that is not said, what is said instead, and exceptions: what stands around it → why it may.

    `of` narrows it to the files and addresses that begin like that.
    """

    pattern: str
    say: str
    but: dict[str, str] = field(default_factory=dict)
    of: str = ""


IN_A_GAME = {
    r"\b(ball|defender|corners|side|pace|pass|option|extra touch|it off you|leg)\b": "of the game: the ball is taken off somebody"
}

RULES = (
    # One name each.
    Rule("squads?", "team"),
    Rule("bouts?", "round"),
    Rule("rungs?", "variation"),
    Rule("ladders?", "easier and harder"),
    Rule("turn-?outs?", "numbers"),
    Rule("(chang(e|es|ed|ing)) (over|round)", "changeover, move round, swap"),
    Rule("(stand|stands|standing|stood) out", "off (by plan), waiting (not by plan)"),
    Rule("(rests?|resting) in turn", "off in turn"),
    Rule("waits? in turn", "off in turn"),
    Rule("area each", "area per player"),
    Rule("jokers?|wall[- ]players?|neutrals?", "floater (plays for whoever has it), bounce player, target"),
    Rule("duels?", "1v1"),
    Rule("end[- ]lines?", "byline"),
    Rule("delivered|delivery", "done"),
    Rule(
        "(take|takes|taken|taking|took)( [a-z]+){0,2} (away|out|back)",
        "remove, delete, cancel, undo",
        {
            **IN_A_GAME,
            r"\btak(e|es|en|ing) (place|part)\b": "took place, takes part",
            r"\btouch out\b|\bsteps back\b|\bout of the way\b": "of the game",
            r"\btakes? (me|it|one side) ": "of the game",
        },
    ),
    Rule("(take|takes|taken|taking) (the library |it |them |this )?along", "download, export"),
    Rule(
        "take (it |this )?off( the list)?",
        "remove from the list",
        {r"\bnobody may take it off you\b": "of the game"},
    ),
    Rule("withdraw|withdraws|withdrawn", "delete, cancel"),
    Rule(
        "let (it|this|them) go",
        "discard, delete",
        {r"\b(ball|when do you|wide|go wide|early)\b": "of the game: the ball is let go"},
    ),
    Rule("^end (it|the role|a role|the slot|this token|one)", "remove, delete"),
    # In a drill a zone is a part of its grid: the trade's word. What is booked is a space.
    Rule(
        "zones?",
        "space",
        {r"\btime zone\b": "of a clock"},
        of="club/|sessions/|templates/(club|sessions)/|/club/",
    ),
    Rule("(a |the |largest |several |one )pieces?", "space"),
    Rule(
        "(free|more|your|less|of the) ground",
        "space, pitch",
        {r"hunters|pass must leave|ground behind": "of the game: what is behind a line"},
    ),
    Rule("fit(ted|s)? (it |the part |them )?to", "set up for"),
    # Old → better.
    Rule("mind", "check", {r"\b(their|your|the) mind\b": "what one thinks"}),
    Rule(
        "(is|are|was|were|can't be|cannot be|can be|been|nothing is|none is) kept( here| close| no longer)?",
        "saved",
        {
            r"\bgoals? (is|are) kept\b": "a keeper keeps a goal",
            r"\bpairs?\b": "a wish about two players is kept or not",
        },
    ),
    Rule("keep(s)? no longer|keep close|kept close|keep this password|password kept", "save, delete"),
    Rule("to put together|puts? together|put it together", "suggest, join"),
    Rule("(squad|team|season|slot) stands", "added"),
    Rule(
        "stands? (already|below|beside|for what|in the way)|(already|that) stands?( already)?",
        "is there already, is below",
    ),
    Rule("it may spend|may spend|figures lean on", "limits, where these limits come from"),
    Rule("days with something on|days of rest", "football days, rest days"),
    Rule("distance from the drill", "nearest the original"),
    Rule(
        "of the drawing",
        "of this drawing",
    ),
    # In a drill's own words a player may shut the way.
    Rule("shut", "closed", of="(club|drills|sessions|templates)/"),
    Rule("shut (at|by|first|lane)|lane is shut|is shut at", "closed"),
    Rule(
        "coach it|how it is kept|what it becomes|where the ball comes from",
        "when to step in, status and history, what happens next, restarts",
        {
            r"^Say where the ball comes from after it goes out": "a sentence about a restart",
        },
    ),
    Rule("kit there is|effort at most|spelt( nearly so)?", "kit you have, no harder than, did you mean"),
    Rule("open at the pitch|^into the pocket", "run it, pocket mode"),
    Rule(
        "what is tonight|change what tonight is|propose again|propos(al|als|e|es|ed)|not this one",
        "suggestion, suggest again, swap this",
        {r"\bplayers propose\b": "of the game"},
    ),
    Rule("(this )?stands? in the way|in the way:", "nothing is that …"),
    Rule("keepers apart|apart again", "keepers separate, separate again"),
    Rule("before the clock|another time, or off|off because of", "before you start, move or cancel, reason"),
    Rule(
        "count again|so far:?$",
        "update, running total",
        {r"\b(of|best|found) .*so far$|^best so far$|so far$.*\bcounted\b|\bcounted so far": "until now"},
    ),
    Rule("orders? of parts", "session templates"),
    Rule("the rest are here", "everyone else is here"),
    Rule("hold (for part|to finish|to open)", "press and hold", {r"\bpress and hold\b": "said whole"}),
    Rule(
        "^another (team|theme|figure|slot|pitch|season|kind)( of kit)?$",
        "add a …",
        {"^another theme$": "in a list of themes"},
    ),
    Rule(
        "give out a slot|what holds for everybody|lengths in|between two parts",
        "add a slot, club settings, units, changeover",
    ),
    Rule("no names, no health", "no players' names or health details"),
    Rule(
        "forgotten the password|second step|to the first page|not with your role",
        "forgotten your password?, two-step sign-in, back to Today, you don't have access",
    ),
    Rule("the heart of it|looks after the house", "main part, the system"),
    Rule("anew", "again"),
)


# What is put into a text: its name is no word.
PARTS = re.compile(r"%\(\w+\)\w|\{\w*(:\w+)?\}")


def breaches(where: str, text: str) -> list[str]:
    """What a text says that it may not, with what to say instead."""
    found = []
    for rule in RULES:
        if not re.match(rule.of, where):
            continue
        hit = re.search(rf"(?<![\w{{}}.-])(?:{rule.pattern})(?![\w}}-])", PARTS.sub("…", text), re.IGNORECASE)
        if hit and not any(re.search(each, text, re.IGNORECASE) for each in rule.but):
            found.append(f"“{hit[0]}”: say {rule.say}")
    return found
