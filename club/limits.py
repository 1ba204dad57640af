"""How long a text may be and how large a number: the one table. Lengths are asked before anything looks at a text.

What a drill document may hold is said by its own types (`drills.game.document`).
"""

# Characters of a text.
SHORT = 20  # the label of an age group
PHONE = 20
EMERGENCY_NUMBER = 8
ADDRESS = 120  # of a pitch, for who calls an ambulance
WHERE = 80  # a gate, a defibrillator
KEY = 40  # of a row, a rung, a theme
NAME = 40  # of a person, a place, a squad
LABEL = 60  # of a theme, of an order of parts
TITLE = 80
NOTE = 1_000
LINE = 200  # of words looked for, of a choice, of a button; more is cut off
PASSWORD = 128
PLAYER_LINES = 4_000  # 40 lines with room for blanks
DRILL_IDS = 4_000  # a hundred of them, with blanks between
LOADED = 20_000  # a page's own state, sent along and back
AS_TYPED = 40  # a number, a length of time, a clock time: what is longer is none

# Bytes of a form or of a JSON body; files of drills have a limit of their own.
BODY_BYTES = 1024**2

# Entries of a list that somebody sends.
LIST = 100
FIXED_GOALS = 8  # of one zone

# Numbers. Every rule of a field is narrower; these keep what no column holds away from the database.
NUMBER = 1_000_000
VERSION = 2_147_483_647
LONGEST_EDGE_M = (
    130  # of ground: a touchline is at most 120 m (Laws of the Game, Law 1), with room for the run-off
)
PAGE_SIZE = 12  # entries on one page of a list
YEARS = range(2000, 2100)  # nothing that a club plans or records lies beyond, and no calendar ends inside

# JSON: levels of nesting, and digits of a whole number (what a 64-bit column holds).
DEEPEST = 32
MOST_DIGITS = 18
