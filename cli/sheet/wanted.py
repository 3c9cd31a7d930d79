"""A sheet as a maker asks for it."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Wanted:
    """What is asked for; the texts are as they were given."""

    node: str
    paper: str = "a4"
    lines: str | None = None
    since: str | None = None
    fabric: str = ""
    as_of: str | None = None
    sizes: bool = False
    only_moved: bool = False
