"""What a maker states of a drawing: which line is what, and how its pieces are sewn together.

A proposal has the same form, and so has the text file that it is corrected in.
"""

from dataclasses import dataclass, field

Level = str
"""Where a level lies: "along hem", "at underarm", "at dart bust", "line 14", "212mm below neck"."""


@dataclass(frozen=True)
class StatedPiece:
    """What the lines of a piece are, each told by its number.

    `edges` are lists of lines in ring order: where darts part an edge, or a corner lies within it,
    it is drawn as several. `setbacks` say how far the tip of a dart stops short of the point that
    it aims at, mm. `holes` are drilled through all layers, `lines` are drawn inside, to lay or turn
    cloth by. `grain` is a line, or an edge it runs along, as "along centre"; `free` are edges
    that are sewn to nothing.
    """

    name: str
    edges: dict[str, tuple[int, ...]]
    darts: dict[str, int] = field(default_factory=dict)
    setbacks: dict[str, float] = field(default_factory=dict)
    notches: dict[str, int] = field(default_factory=dict)
    levels: dict[str, Level] = field(default_factory=dict)
    holes: dict[str, int] = field(default_factory=dict)
    lines: dict[str, int] = field(default_factory=dict)
    fold: str | None = None
    grain: int | str | None = None
    free: tuple[str, ...] = ()


@dataclass(frozen=True)
class StatedSeam:
    """Edges that are sewn together, such as ("front.side",) and ("back.side",); ease in mm."""

    name: str
    side: tuple[str, ...]
    mate: tuple[str, ...]
    low: float = 0.0
    high: float = 0.0


@dataclass(frozen=True)
class StatedJoin:
    """Two edges that run on into each other: "front.armhole at underarm", and the same of back."""

    name: str
    first: str
    second: str


@dataclass(frozen=True)
class Stated:
    """All that is stated of a drawing."""

    pieces: tuple[StatedPiece, ...]
    seams: tuple[StatedSeam, ...] = ()
    joins: tuple[StatedJoin, ...] = ()
