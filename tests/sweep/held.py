"""What must hold of a drill as it is run, whatever the numbers: each contradiction as a line of text."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from drills.drawing.checks import check
from drills.drawing.picture import laid
from drills.game.bibs import COLOURS, NO_BIB
from drills.game.bibs.recoloured import texts_of
from drills.game.document.choices import GroupHome
from drills.game.fit.kit import BIBS
from drills.game.format import Format
from drills.game.places.outside import LINE_OUT_M
from drills.game.played import GridTonight, Played
from drills.game.scene import Scene, ScenePlayer
from drills.pages import grids_told, told

_ON_EDGES = {GroupHome.TOUCHLINE, GroupHome.END_LINE, GroupHome.EVERY_SIDE}


def contradictions(tonight: Played) -> Iterator[str]:
    """Everything in which a drill contradicts itself tonight; nothing, where all is well."""
    yield from _colours(tonight)
    yield from _kit(tonight)
    yield from _phases(tonight)
    for grid, _times in tonight.pictures:
        scene = laid(tonight, grid).scene
        yield from _counts(tonight, grid, scene)
        yield from _homes(tonight, grid, scene)


def texts(tonight: Played) -> Iterator[str]:
    """All that is said of it: the sentences that pages put together, and every text of the document."""
    said = told(tonight)
    yield from (*said.how, *said.start, said.ends, *said.queue)
    yield from (each.text for each in texts_of(tonight.document) if each.field not in ("scene", "variations"))


# What really has a colour of its own, whoever wears what.
_THINGS = re.compile(r"\s+(?:cone|ball|card|gate|grass|light|disc|marker|pole|hoop|flag)s?\b")
_QUOTED = re.compile(r"\"[^\"]*\"|“[^”]*”")
_WORDS = re.compile(rf"\b({'|'.join(sorted(COLOURS, key=len, reverse=True))})(?:s\b|\b)", re.IGNORECASE)


def _colours(tonight: Played) -> Iterator[str]:
    """A colour word that nobody wears, goals and lines of a side too: read plainly, not by the rules that changed the text.

    The words speak of the first grid; others say what they wear instead.
    """
    grid = tonight.first
    worn = {each.bib for each in (*grid.groups, *grid.waiting)} | {
        each.bib for each in tonight.document.groups if each.bib
    }
    for text in dict.fromkeys(texts(tonight)) if worn != {""} else ():
        plain = _QUOTED.sub("", text)
        for word in _WORDS.finditer(plain):
            if word[1].lower() not in worn and not _THINGS.match(plain, word.end()):
                yield f"nobody wears {word[1].lower()}: {text}"
    others = {
        each.number
        for each in tonight.grids
        if any(colour != grid.worn.get(side, colour) for side, colour in each.worn.items())
    }
    if len(tonight.other_colours) != len(others):
        yield f"grids {sorted(others)} wear other bibs and nothing says so"


def _kit(tonight: Played) -> Iterator[str]:
    """As many bibs are carried as are worn."""
    worn = sum(tonight.bibs.values())
    if tonight.kit.get(BIBS, 0) != worn:
        yield f"{tonight.kit.get(BIBS, 0)} bibs in the kit, {worn} worn"


def _phases(tonight: Played) -> Iterator[str]:
    """Nobody plays in a phase who is not there."""
    there = tonight.first.format.players + tonight.off
    for each in tonight.document.phases if tonight.setup else ():
        if Format.parse(each.format).players > there:
            yield f"{each.name} is {each.format}, with {there} players"


def _counts(tonight: Played, grid: GridTonight, scene: Scene) -> Iterator[str]:
    """As many of each bib in the picture as in the words."""
    lines = next(each for each in grids_told(tonight) if each.number == grid.number).groups
    said = Counter({each.bib or NO_BIB: 0 for each in lines})
    for line in lines:
        said[line.bib or NO_BIB] += line.count
    # As it is written, a line is drawn for those who come next, and the groups say how many they may be.
    off = tonight.setup is not None
    playing = [each for each in scene.players if each.kind != "adult" and (off or each.place != "queue")]
    drawn = Counter(each.bib or NO_BIB for each in playing)
    if said != drawn:
        yield f"grid {grid.number}: {dict(said)} in words, {dict(drawn)} drawn"
    if sum(said.values()) != grid.format.players + grid.off:
        yield f"grid {grid.number}: {sum(said.values())} in words, {grid.format.players + grid.off} there"


def _homes(tonight: Played, grid: GridTonight, scene: Scene) -> Iterator[str]:
    """Everybody where the group has its home, and the plan's own checks."""
    for each in check(scene, grid.format):
        if each.severity == "error":
            yield f"grid {grid.number}: {each.text}"
    homes = {each.key: each for each in tonight.document.groups}
    zones = {each.key: each for each in scene.zones}
    for player in scene.players:
        group = homes.get(player.group or "")
        if player.place == "queue":
            yield from _waits(scene, player)
        elif group is None:
            continue
        elif group.place is GroupHome.ZONE and group.zone in zones:
            zone = zones[group.zone]
            across = zone.x_m <= player.x_m <= zone.x_m + zone.length_m
            if not (across and zone.y_m <= player.y_m <= zone.y_m + zone.width_m):
                yield f"grid {grid.number}: {player.key} of {group.name} outside {zone.title}"
        elif group.place in _ON_EDGES and player.kind == "player":
            x, y = player.x_m, player.y_m
            edge = min(x, y, scene.length_m - x, scene.width_m - y)
            if edge > 0.2 * min(scene.length_m, scene.width_m):
                yield f"grid {grid.number}: {player.key} of {group.name} is not on an edge"


def _waits(scene: Scene, player: ScenePlayer) -> Iterator[str]:
    """Off the lines, and not behind a goal that is shot at."""
    inside = 0 < player.x_m < scene.length_m and 0 < player.y_m < scene.width_m
    if inside:
        yield f"{player.key} waits inside the grid"
    out = {
        "left": -player.x_m,
        "right": player.x_m - scene.length_m,
        "bottom": -player.y_m,
        "top": player.y_m - scene.width_m,
    }
    edges = {each.edge for each in scene.goals}
    behind = [edge for edge in edges & out.keys() if out[edge] >= LINE_OUT_M - 0.1]
    if behind and len(edges & out.keys()) < len(out):
        yield f"{player.key} waits behind the goal at the {behind[0]}"
