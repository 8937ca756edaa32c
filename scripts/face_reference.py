#!/usr/bin/env python3
"""Writes tests/face/reference.txt: random faces with the laps and drops that this program finds on them.

    python3 scripts/face_reference.py [SEED [FACES]] > tests/face/reference.txt

It is a second reading of the face model, made from its definition and not from the Rust sources, and plain rather than
quick, so that two separate readings have to agree. Faces that cannot be built are left out: for them the definition only
says how to go on somehow. Lengths are millimetres.
"""

import random
import sys
import tomllib
from dataclasses import dataclass, field
from pathlib import Path

INF = float("inf")
# What is taken for granted stands in one place, for the program and for this reading of the model.
ASSUMED = tomllib.loads((Path(__file__).parent.parent / "rules/tables/assumed.toml").read_text())["assumed"]


def millimetres(text):
    number, unit = text.split()
    over, _, under = number.partition("/")
    return float(over) / float(under or 1) * {"mm": 1, "in": 25.4}[unit]


BEAD_REACH = millimetres(ASSUMED["bead-reach"])
FILLET = millimetres(ASSUMED["fillet"])
#          kind        holds water  sensitive
MATERIALS = {
    "conc": ("mass", False, False),
    "ply": ("board", False, True),
    "wrap": ("sheet", True, False),
    "tape": ("tape", True, False),
    "flash": ("flashing", True, False),
    "win": ("unit", True, False),
    "foam": ("fill", False, False),
    "glass": ("board", False, False),
    "boards": ("cladding", False, False),
    "air": ("gap", False, False),
    "stud": ("frame", False, True),
    "coat": ("coat", True, False),
    "xps": ("board", False, False),
    "cast": ("mass", True, False),
}
INSULATES = {"xps"}


@dataclass(eq=False)
class Piece:
    at: int
    material: str
    up: tuple
    along: tuple
    drip: bool = False
    bonds: list = field(default_factory=list)
    behind: list = field(default_factory=list)
    cuts: list = field(default_factory=list)
    over: list = field(default_factory=list)
    layer: int = None  # of the one assembly, counted from outside
    pan: bool = False

    @property
    def kind(self):
        return MATERIALS[self.material][0]

    @property
    def holds(self):
        return MATERIALS[self.material][1]

    @property
    def suffers(self):
        return MATERIALS[self.material][2] and not self.holds

    def covers(self, up, along):
        inside = lambda rect: rect[0][0] < up < rect[0][1] and rect[1][0] < along < rect[1][1]
        return inside((self.up, self.along)) and not any(inside(cut) for cut in self.cuts)


@dataclass
class Seal:
    pieces: set
    at: tuple = None  # (axis, place), or None along the whole contact


class Face:
    def __init__(self, pieces, seals, sheltered, water=None, grade=None, valley=None, flat=False):
        """`water` is the layer of the assembly that controls water; with `grade` the assembly is a foundation."""
        self.pieces, self.seals, self.sheltered, self.water = pieces, seals, sheltered, water
        # `flat`: the whole face is too flat for a lap to shed.
        self.grade, self.valley, self.flat = grade, valley, flat
        # Rows from the top down, columns from left to right.
        # Grade splits what stands on a footing that is kept dry below it, and nothing else.
        footing = any(p.kind == "mass" and not p.holds and water is not None and (p.layer or 0) > water for p in pieces)
        self.rows = self.strips("up", [sheltered, grade if footing else None, valley])[::-1]
        self.columns = self.strips("along", [])
        # The last row of the side that runs down: all of them, or those above the valley.
        self.last = sum(valley is None or low >= valley for low, _ in self.rows) - 1
        self.stacks = {}
        for c, column in enumerate(self.columns):
            for r, row in enumerate(self.rows):
                self.stacks[c, r] = [p for p in pieces if p.covers(middle(row), middle(column))]
        self.stacks = stacked_all(self.stacks)
        self.buildable = all(as_said(stack) for stack in self.stacks.values()) and not self.changes_sides()
        self.contacts = {frozenset(pair) for s in self.stacks.values() for pair in zip(s, s[1:])}
        self.bonded = {frozenset((p, q)) for p in pieces for q in p.bonds if self.sticks(p, q)}
        # A coat bonds what it is put on: what it touches of what is there by then.
        coats = {pair for pair in self.contacts if max(pair, key=lambda p: p.at).kind == "coat"}
        self.bonded |= coats
        self.lines = {cell: self.water_line(stack, self.rows[cell[1]]) for cell, stack in self.stacks.items()}

    # Order

    def changes_sides(self):
        for (c, r), here in self.stacks.items():
            for there in (self.stacks.get((c + 1, r), []), self.stacks.get((c, r + 1), [])):
                common = [p for p in here if p in there]
                if sorted(common, key=there.index) != common:
                    return True
        return False

    def sticks(self, piece, onto):
        """Adhesive is on the inboard face: what lies outboard wherever the two touch lies on the dry back."""
        touching = [pair for s in self.stacks.values() for pair in zip(s, s[1:]) if set(pair) == {piece, onto}]
        return not touching or (onto, piece) in touching

    # The water line

    def is_layer(self, piece):
        return self.water is not None and piece.layer == self.water

    def protected(self, piece, row):
        if piece.suffers:
            return True
        shown = any(self.is_layer(p) for p in self.pieces)
        inboard = piece.layer is not None and self.water is not None and piece.layer > self.water
        if not (inboard and shown and not self.stands_in(piece) and piece.kind != "gap"):
            return False
        # The mass of a foundation may stand bare above grade.
        footing = self.grade is not None and piece.kind == "mass"
        return not footing or row[1] <= self.grade

    def stands_in(self, piece):
        """It holds water; concrete does not stand in for the layer that a wall names, and does for that of a foundation."""
        return piece.holds and (piece.kind != "mass" or self.grade is not None)

    def open(self, piece, row):
        if self.protected(piece, row):
            return True
        if self.is_layer(piece):
            return False
        if piece.layer is not None and self.water is not None and piece.layer < self.water:
            return True
        sealed = piece.kind in ("frame", "board") and any(piece in seal.pieces for seal in self.seals)
        sealed = sealed and piece.material not in INSULATES
        return not piece.holds and piece.kind not in ("mass", "unit") and not sealed

    def is_batten(self, piece):
        return piece.kind == "frame" and any(
            piece in pair and any(q.kind in ("cladding", "gap") for q in pair if q is not piece) for pair in self.contacts
        )

    def water_line(self, stack, row):
        """The pieces at the line and inboard of it."""
        for at in range(len(stack) - 1, -1, -1):
            piece, further_in = stack[at], stack[:at]
            if self.protected(piece, row):
                wetted = self.is_batten(piece) and any(p.holds for p in further_in)
                if not wetted and not any(self.is_layer(p) or self.is_part(p) for p in further_in):
                    return stack[: at + 1]
            elif not self.open(piece, row) and not self.is_screen(piece, further_in, row):
                return stack[: at + 1]
        return stack[:1]

    def is_screen(self, piece, further_in, row):
        for at, layer in enumerate(further_in):
            between = further_in[at + 1 :]
            # A second skin of the layer itself is a screen only in front of what is outboard of the layer.
            counts = [p for p in between if self.open(p, row) and not (self.is_layer(piece) and self.protected(p, row))]
            # A flashing that is tight to the layer stays the line over what carries the veneer.
            counts = [p for p in counts if not (self.is_part(piece) and p.kind == "frame" and p.layer is None)]
            if self.is_layer(layer) and counts:
                return True
        return False

    def is_part(self, piece):
        """A flashing tight to the water layer."""
        tight = any(piece in pair and any(self.is_layer(p) for p in pair) for pair in self.contacts)
        return not self.is_layer(piece) and piece.holds and piece.kind in ("flashing", "tape", "coat") and tight

    def is_behind(self, cell, piece):
        stack = self.stacks[cell]
        at = stack.index(piece)
        layers = [n for n, p in enumerate(stack) if self.is_layer(p)]
        return not self.is_part(piece) and any(n > at for n in layers) and not any(n <= at for n in layers)

    def strips(self, axis, also):
        which = 0 if axis == "up" else 1
        ends = {end for p in self.pieces for extent in [getattr(p, axis)] + [c[which] for c in p.cuts] for end in extent}
        ends = sorted(ends | {-INF, INF} | {end for end in also if end is not None})
        return list(zip(ends, ends[1:]))

    def beads(self, a, b):
        return [seal for seal in self.seals if seal.pieces == {a, b}]

    def sealed(self, a, b):
        pair = frozenset((a, b))
        return pair in self.bonded & self.contacts or bool(self.beads(a, b))

    def neighbours(self, a, b, cell):
        stack = self.stacks[cell]
        return a in stack and b in stack and abs(stack.index(a) - stack.index(b)) == 1

    # Laps

    def laps(self):
        shortest = {}
        lines = [("head", self.columns, self.rows[::-1], lambda i, k: (i, len(self.rows) - 1 - k))]
        lines.append(("side", self.rows, self.columns, lambda i, k: (k, i)))
        for run, across, strips, cell in lines:
            for i in range(len(across)):
                intervals = [(p, first, last) for p in self.pieces for first, last in self.intervals(p, strips, i, cell)]
                for lower, low_first, low_last in intervals:
                    for upper, up_first, up_last in intervals:
                        stack = self.stacks[cell(i, up_first)]
                        # Cladding that ends in one line with the flashing behind it stands on that flashing.
                        flush = (
                            run == "head"
                            and (lower.kind, upper.kind) == ("flashing", "cladding")
                            and low_first == up_first
                            and low_last < up_last
                            and strips[low_first][0] != -INF
                            and lower in stack
                            and stack.index(lower) < stack.index(upper)
                        )
                        if lower is upper or not (low_first < up_first <= low_last < up_last or flush):
                            continue
                        over, under = sorted((lower, upper), key=stack.index, reverse=True)
                        low, high = strips[up_first][0], strips[low_last][1]
                        key = (over, under, run, run == "head" and self.sheds(over is upper, low, high))
                        touch = any(self.neighbours(over, under, cell(i, k)) for k in range(up_first, low_last + 1))
                        length, contact = shortest.get(key, (INF, False))
                        if high - low <= length:
                            shortest[key] = high - low, touch or high - low == length and contact
        return shortest

    def sheds(self, upper_outboard, low, high):
        """Below a valley water runs up the face, and across it both ways."""
        if self.valley is None or low >= self.valley:
            return upper_outboard
        return high <= self.valley and not upper_outboard

    # Continuity of water, within the one assembly

    def continuous(self):
        """Whether all pieces of the water layer hang together; None where there is none."""
        ends = [p for p in self.pieces if self.is_layer(p)]
        if not ends:
            return None
        links = {pair for pair in self.bonded & self.contacts}
        links |= {frozenset(seal.pieces) for seal in self.seals if self.meets(seal)}
        for (over, under, run, shingled), (_, contact) in self.laps().items():
            if not self.flat and (shingled or run == "side" and (contact or self.sealed(over, under))):
                links.add(frozenset((over, under)))
        if self.sheltered is not None:
            # A soffit leads from what lies wholly where no rain comes to what goes up to there.
            dry = [p for p in self.pieces if p.up[0] >= self.sheltered]
            links |= {frozenset((p, q)) for p in dry for q in self.pieces if q is not p and q.up[1] > self.sheltered}
        inboard = lambda p: p.layer is not None and p.layer > self.water
        carries = lambda p: p.holds and (self.stands_in(p) or not inboard(p))
        reached, grown = {ends[0]}, True
        while grown:
            more = {q for pair in links if pair & reached for q in pair if all(carries(p) for p in pair)}
            grown = not more <= reached
            reached |= more
        return all(p in reached for p in ends)

    def meets(self, seal):
        """The two pieces are in contact where the bead lies, or some of one ends there against the other."""
        first, second = seal.pieces
        return any(self.ends_at(seal, a, b) for a, b in ((first, second), (second, first)))

    def ends_at(self, seal, a, b):
        axis, at = seal.at or (None, None)
        for (c, r), stack in self.stacks.items():
            if a not in stack:
                continue
            extents = {"up": self.rows[r], "along": self.columns[c]}
            here = axis is None or extents[axis][0] <= at <= extents[axis][1]
            if here and self.neighbours(a, b, (c, r)):
                return True
            if b in stack:
                continue
            beside = [("up", 1, (c, r - 1)), ("up", 0, (c, r + 1)), ("along", 1, (c + 1, r)), ("along", 0, (c - 1, r))]
            for way, end, cell in beside:
                near = axis is None or axis == way and abs(at - extents[way][end]) <= BEAD_REACH
                if near and b in self.stacks.get(cell, []) and not self.parted(stack, self.stacks[cell], a, b):
                    return True
        return False

    def parted(self, here, beyond, a, b):
        """Something that goes on from cell to cell lies between the two; what sticks to one of them is its surface."""
        if "unit" in (a.kind, b.kind):
            return False
        for c in here:
            if c in beyond and not self.sealed(a, c) and not self.sealed(b, c):
                then, now = beyond.index(c) < beyond.index(b), here.index(c) > here.index(a)
                behind, before = beyond.index(c) > beyond.index(b), here.index(c) < here.index(a)
                if now and then or before and behind:
                    return True
        return False

    def intervals(self, piece, strips, i, cell):
        held = [piece in self.stacks[cell(i, k)] for k in range(len(strips))] + [False]
        first = None
        for k, here in enumerate(held):
            if here and first is None:
                first = k
            elif not here and first is not None:
                yield first, k - 1
                first = None

    # Drops

    def drops(self):
        """Events as {(event, pieces): ends}; below a valley those of the face seen upside down."""
        events = self.drops_down()
        if self.valley is not None:
            turned, original = self.turned()
            for (event, pieces), ends in turned.drops_down().items():
                events.setdefault((event, tuple(original[p] for p in pieces)), set()).update(ends)
        return events

    def turned(self):
        over = lambda extent: (-extent[1], -extent[0])
        twin = {p: Piece(p.at, p.material, over(p.up), p.along, p.drip, layer=p.layer, pan=p.pan) for p in self.pieces}
        for p, q in twin.items():
            q.bonds, q.behind, q.over = ([twin[o] for o in others] for others in (p.bonds, p.behind, p.over))
            q.cuts = [(over(up), along) for up, along in p.cuts]
        at = lambda place: ("up", -place[1]) if place and place[0] == "up" else place
        seals = [Seal({twin[p] for p in seal.pieces}, at(seal.at)) for seal in self.seals]
        face = Face(list(twin.values()), seals, None, self.water, None, -self.valley, self.flat)
        return face, {q: p for p, q in twin.items()}

    def drops_down(self):
        events = {}
        for c in range(len(self.columns)):
            run_over = set()
            for r, row in enumerate(self.rows[: self.last + 1]):
                rain = self.sheltered is None or row[0] < self.sheltered
                if rain and self.stacks[c, r] and r not in run_over:
                    self.fall(c, r, self.lines[c, r][-1], events, run_over)
            for pan in (p for p in self.pieces if p.pan):
                there = [r for r in range(self.last + 1) if pan in self.lines[c, r]]
                if there:
                    # What a pan catches and leads out again is what it is there for.
                    caught = {}
                    self.fall(c, there[0], pan, caught, run_over)
                    for event, ends in caught.items():
                        if ends - {"drains"}:
                            events.setdefault(event, set()).update(ends - {"drains"})
        return events

    def fall(self, column, row, piece, events, run_over):
        tell = lambda event, pieces, end: events.setdefault((event, pieces), set()).add(end)
        if self.protected(piece, self.rows[row]):
            return tell("bare", (piece,), "wets" if piece.suffers else "behind")
        met = []
        line = self.lines[column, row]
        covers = [[p, self.rows[row][1], INF] for p in line[line.index(piece) + 1 :]]
        drop = Drop(self, column, row, piece, covers, met, events, run_over)
        # What comes into a pan comes in below the bead at its back.
        drop.fresh = bool(covers)
        drop.top = self.rows[row][1] if covers else None
        end, last = drop.run()
        for event, pieces in met:
            tell(event, pieces, end)
        if not met and end not in ("drains", "held"):
            tell(end, last, end)


class Drop:
    """A drop on the face of a piece. Covers are [piece, entry, brim], inmost first."""

    def __init__(self, face, column, row, piece, covers, met, events=None, run_over=None, lost=None):
        self.face, self.column, self.row, self.piece = face, column, row, piece
        self.covers, self.met, self.events, self.run_over, self.lost = covers, met, events, run_over, lost
        self.fresh, self.top = False, None

    def stack(self, row):
        return self.face.stacks[self.column, row]

    def line(self, row):
        return self.face.lines[self.column, row]

    def harmless(self, end):
        """The end, unless the drop is behind the water layer there."""
        return "behind" if self.face.is_behind((self.column, self.row), self.piece) else end

    def run(self):
        while True:
            if not self.covers and self.run_over is not None:
                self.run_over.add(self.row)
            if self.covers and self.blocked(self.covers[0][0]) and not self.fresh:
                cover, entry, brim = self.covers[0]
                if brim < entry:
                    return "pools", (cover, self.piece)
                return self.harmless("held"), (self.piece,)
            self.fresh = False
            if self.row == self.face.last:
                return self.harmless("drains"), (self.piece,)
            before = self.piece
            end = self.descend()
            if end:
                return end, (self.piece,)
            self.row += 1
            if self.piece is not before and self.face.protected(self.piece, self.face.rows[self.row]):
                return "wets" if self.piece.suffers else "behind", (self.piece,)

    def blocked(self, cover):
        face, low, high = self.face, *self.face.rows[self.row]
        if self.lost == {cover, self.piece}:
            return False
        if frozenset((cover, self.piece)) in face.bonded:
            return True
        back = lambda at: self.top is not None and abs(self.top - at) <= BEAD_REACH / 2
        beads = [s.at[1] for s in face.beads(cover, self.piece) if s.at and s.at[0] == "up"]
        return any(low <= at <= high and not back(at) for at in beads)

    def descend(self):
        above, below, y = self.stack(self.row), self.line(self.row + 1), self.face.rows[self.row][0]
        self.covers = [c for c in self.covers if c[0] in below]
        # What stood in front of the water line and belongs to it below is in front of the drop there too.
        outboard = above[above.index(self.piece) + 1 :]
        ceiling = next((n for n, p in enumerate(below) if p in outboard), len(below))
        if self.piece in below:
            self.pass_edges(above, below, ceiling, y)
        else:
            end = self.land(above, below, outboard, ceiling, y)
            if end:
                return end
        known = {c[0]: c for c in self.covers}
        self.covers = [known.get(p, [p, y, INF]) for p in below[below.index(self.piece) + 1 :]]
        return None

    def pass_edges(self, above, below, ceiling, y):
        for edge in below[below.index(self.piece) + 1 : ceiling]:
            if edge in above or self.face.open(edge, self.face.rows[self.row + 1]) and not edge.suffers:
                continue
            if not self.top_sealed(edge, y):
                self.met.append(("reverse", (edge, self.piece)))
                return
            self.suppose(edge, self.piece, below, self.piece, y)
            self.piece = edge

    def top_sealed(self, edge, y):
        if self.lost == {edge, self.piece}:
            return False
        if frozenset((edge, self.piece)) in self.face.bonded:
            if self.face.neighbours(edge, self.piece, (self.column, self.row + 1)):
                return True
        beads = self.face.beads(edge, self.piece)
        return any(s.at is None or s.at[0] == "up" and -FILLET <= y - s.at[1] <= BEAD_REACH for s in beads)

    def land(self, above, below, outboard, ceiling, y):
        if self.piece in self.stack(self.row + 1):
            return "drains"
        if self.piece.drip and not self.covers:
            return self.harmless("drains")
        inboard = below[:ceiling]
        if not inboard:
            if self.covers:
                return "enters"
            lower = [p for r in range(self.row + 1, self.face.last + 1) for p in self.stack(r)]
            return "gap" if any(p not in outboard for p in lower) else self.harmless("drains")
        landing = inboard[-1]
        behind = [p for p in inboard[:-1] if p in above]
        joined = self.face.sealed(self.piece, landing) or self.glued(landing)
        sealed = joined and self.lost != {landing, self.piece}
        leaks = self.face.flat and self.piece.holds and landing.holds and not sealed
        if landing in above and not leaks:
            self.lower_brims(landing)
            self.piece = landing
            return None
        beads = self.face.beads(landing, self.piece)
        joined = any(s.at is None or s.at[0] == "up" and abs(y - s.at[1]) <= BEAD_REACH for s in beads)
        if joined and self.lost != {landing, self.piece}:
            self.suppose(landing, self.piece, below, behind[-1] if behind else None, y)
            self.piece = landing
            return None
        self.met.append(("joint", (self.piece, landing)))
        if not behind:
            return "enters"
        self.covers = [[p, y, INF] for p in inboard[inboard.index(behind[-1]) + 1 :]] + self.covers
        self.lower_brims(behind[-1])
        self.piece = behind[-1]
        return None

    def glued(self, landing):
        """A piece that holds water lies between the two near the foot of the upper one, bonded to both."""
        foot = self.face.rows[self.row][0]
        for row in range(self.row, -1, -1):
            if self.face.rows[row][0] - foot > BEAD_REACH:
                break
            stack = self.stack(row)
            if landing in stack and self.piece in stack:
                for p in stack[stack.index(landing) + 1 : stack.index(self.piece)]:
                    if p.holds and {frozenset((p, landing)), frozenset((p, self.piece))} <= self.face.bonded:
                        return True
        return False

    def lower_brims(self, landing):
        if (self.face.sealed(self.piece, landing) or self.glued(landing)) and self.lost != {self.piece, landing}:
            return
        row = self.row
        while row > 0 and landing in self.stack(row - 1):
            row -= 1
        for cover in self.covers:
            cover[2] = min(cover[2], self.face.rows[row][1])

    def suppose(self, onto, left, below, on, y):
        """The same drop were that pair not sealed; it goes on on `on`, behind `onto`."""
        if self.events is None:
            return
        told = self.events.setdefault(("relies", (onto, left)), set())
        if on is None:
            told.add("enters")
            return
        known = {c[0]: c for c in self.covers}
        covers = [list(known.get(p, (p, y, INF))) for p in below[below.index(on) + 1 :]]
        drop = Drop(self.face, self.column, self.row, left, covers, [], lost={onto, left})
        if on is not left:
            drop.lower_brims(on)
        drop.piece, drop.row = on, self.row + 1
        if self.face.protected(on, self.face.rows[drop.row]):
            told.add("wets" if on.suffers else "behind")
        else:
            told.add(drop.run()[0])


def stacked_all(cells):
    """What slips in behind one piece is behind all that lies over it there, and behind each of these in every cell."""
    behind = {p: set(p.behind) for here in cells.values() for p in here}
    while True:
        stacks = {cell: stacked(here, behind) for cell, here in cells.items()}
        new = set()
        for stack in filter(as_said, stacks.values()):
            for n, piece in enumerate(stack):
                beyond = {p for p in stack[n + 1 :] if p.at < piece.at}
                if behind[piece] & beyond:
                    silent = beyond - behind[piece] - set(piece.over)
                    new |= {(piece, p) for p in silent if piece not in p.behind}
        if not new:
            return stacks
        for piece, p in new:
            behind[piece].add(p)


def as_said(stack):
    at = {p: n for n, p in enumerate(stack)}
    over = all(at[p] > at[q] for p in stack for q in p.over if q in at)
    return over and all(at[p] < at[q] for p in stack for q in p.behind if q in at)


def stacked(pieces, said_behind):
    """Inboard to outboard, as one after the other is installed."""
    stack = []
    for piece in pieces:
        there = [n for n, p in enumerate(stack) if p in said_behind[piece]]
        stack.insert(min(there) if there else len(stack), piece)
        flaps = [p for p in stack if piece in p.over and p is not piece]
        if flaps:
            stack = [p for p in stack if p not in flaps]
            at = stack.index(piece) + 1
            stack[at:at] = flaps
    return stack


def middle(strip):
    low, high = strip
    if low == -INF:
        return 0 if high == INF else high - 1
    return low + 1 if high == INF else (low + high) / 2


# Faces


def random_face(dice):
    def extent(open_ended=0.35, everywhere=0.3):
        if dice.random() < everywhere:
            return -INF, INF
        low = dice.randrange(-4, 5) * 25
        high = low + dice.randrange(1, 7) * 25
        kind = dice.random()
        return (low, INF) if kind < open_ended / 2 else (-INF, high) if kind < open_ended else (low, high)

    pieces = []
    walled = dice.random() < 0.6
    water = dice.randrange(3) if walled else None
    for at in range(dice.randrange(2, 8)):
        # Mostly at the back, where boards belong: a bare board ends every drop at once.
        board = dice.random() < (0.04 if pieces else 0.4)
        material = "ply" if board else dice.choice([m for m in MATERIALS if m != "ply"])
        piece = Piece(at, material, extent(), extent(everywhere=0.6), dice.random() < 0.12)
        if walled and dice.random() < 0.6:
            holds = [water] if material in ("wrap", "tape", "flash", "win") and dice.random() < 0.7 else range(4)
            piece.layer = dice.choice([n for n in holds if n != water or MATERIALS[material][1]])
        if pieces and dice.random() < 0.12:
            piece.behind = dice.sample(pieces, min(len(pieces), dice.randrange(1, 3)))
        if dice.random() < 0.15:
            piece.cuts = [(extent(0, 0), extent(0, 0))]
        piece.pan = material == "flash" and dice.random() < 0.3
        pieces.append(piece)
    for piece in pieces:
        others = [p for p in pieces if p is not piece and (p.at < piece.at or dice.random() < 0.2)]
        if others and dice.random() < 0.6:
            piece.bonds = dice.sample(others, min(len(others), dice.randrange(1, 3)))
        later = [p for p in pieces if p.at > piece.at]
        if later and dice.random() < 0.08:
            piece.over = [dice.choice(later)]
    place = lambda: dice.randrange(-8, 13) * 12.5
    places = [lambda: None, lambda: ("up", place()), lambda: ("along", place())]
    seals = [Seal(set(dice.sample(pieces, 2)), dice.choice(places)()) for _ in range(dice.randrange(3))]
    height = lambda chance: dice.randrange(-2, 6) * 25 if dice.random() < chance else None
    sheltered, grade = height(0.15), height(0.2) if walled else None
    valley = height(0.15) if sheltered is None and grade is None else None
    return Face(pieces, seals, sheltered, water, grade, valley, dice.random() < 0.15)


def lines(face):
    number = lambda x: "" if abs(x) == INF else f"{x:g}"
    span = lambda extent: f"{number(extent[0])}..{number(extent[1])}"
    names = lambda pieces: ",".join(str(p.at) for p in pieces) or "-"
    if face.water is not None:
        yield f"water {face.water}"
    for p in face.pieces:
        drip = "drip" if p.drip else "-"
        layer = "-" if p.layer is None else p.layer
        pan = "pan" if p.pan else "-"
        order = f"{names(p.bonds)} {names(p.over)} {names(p.behind)}"
        yield f"piece {p.material} {span(p.up)} {span(p.along)} {drip} {layer} {pan} {order}"
    for p in face.pieces:
        yield from (f"cut {p.at} {span(up)} {span(along)}" for up, along in p.cuts)
    for s in face.seals:
        a, b = sorted(p.at for p in s.pieces)
        yield f"seal {a} {b} " + (f"{s.at[0]} {number(s.at[1])}" if s.at else "throughout")
    if face.sheltered is not None:
        yield f"sheltered {number(face.sheltered)}"
    for word in ("grade", "valley"):
        if getattr(face, word) is not None:
            yield f"{word} {number(getattr(face, word))}"
    if face.flat:
        yield "flat"
    laps = face.laps().items()
    yield from sorted(
        f"lap {over.at} {under.at} {run} {number(length)}"
        + (" shingled" if shingled else "")
        + (" sealed" if face.sealed(over, under) else "")
        for (over, under, run, shingled), (length, _) in laps
    )
    if face.continuous() is not None:
        yield "water goes on" if face.continuous() else "water breaks"
    drops = face.drops().items()
    yield from sorted(f"drop {event} {names(pieces)} {' '.join(sorted(ends))}" for (event, pieces), ends in drops)


def seal_lost_twice():
    """A drop that has got behind the wrap through a lost seal meets the same seal again, below the cut."""
    back = Piece(0, "conc", (-INF, INF), (0, 100))
    upper = Piece(1, "conc", (-100, INF), (-25, 100), bonds=[back])
    wrap = Piece(2, "wrap", (-INF, 50), (25, INF), drip=True, bonds=[back], cuts=[((-100, -25), (-100, 50))])
    return Face([back, upper, wrap], [Seal({upper, wrap})], None)


def main():
    seed, count = (int(word) for word in (sys.argv[1:] + ["3", "501"][len(sys.argv) - 1 :]))
    dice = random.Random(seed)
    print(f"# Made by scripts/face_reference.py {seed} {count}; do not edit.")
    print("# water LAYER | piece MATERIAL UP ALONG DRIP LAYER PAN BONDS OVER BEHIND | cut PIECE UP ALONG")
    print("# seal PIECE PIECE PLACE | sheltered HEIGHT | grade HEIGHT, of a foundation | valley HEIGHT | flat")
    print("# water goes on, or breaks | lap OVER UNDER RUN LENGTH [shingled] [sealed] | drop EVENT PIECES ENDS")
    faces = [seal_lost_twice()]
    while len(faces) < count:
        face = random_face(dice)
        if face.buildable:
            faces.append(face)
    for number, face in enumerate(faces, 1):
        print(f"\nface {number}")
        print("\n".join(lines(face)))


if __name__ == "__main__":
    main()
