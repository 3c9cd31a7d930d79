"""Where in a book a thing is told: `pattern/NAME`, `conflict/ID`,
`correction/ID`, and the pages there is one of."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from trueup.lineage.files.state import State

START = "start"
CONFLICTS = "conflicts"
GARMENTS = "garments"
FAULTS = "faults"
HISTORY = "history"

SINGLE: Mapping[str, str] = MappingProxyType(
    {
        START: "Blocks and patterns",
        CONFLICTS: "Conflicts",
        GARMENTS: "Garments",
        FAULTS: "Shared faults",
        HISTORY: "History",
    }
)
"""The pages there is one of, and what they are called."""


def named(state: State) -> Iterator[tuple[str, str]]:
    """Yield the name and the address of everything that has a page of its own."""
    yield from ((name, f"{state.nodes[name].kind}/{name}") for name in state.in_order)
    yield from ((name, f"garment/{name}") for name in state.garments)
    yield from ((conflict.id, f"conflict/{conflict.id}") for conflict in state.conflicts)


def addresses(state: State) -> dict[str, str]:
    """Return the address of everything that has a page of its own, by its name.

    Of a node and a garment of one name it is the node's.
    """
    return dict(reversed(list(named(state))))


def correction(commit: str) -> str:
    """Return the address of the page of a correction, by the short id of its step."""
    return f"correction/{commit}"


def is_of_correction(address: str) -> bool:
    """Return whether a page is that of a correction."""
    return address.startswith("correction/")


def node_at(address: str) -> str | None:
    """Return the node a page is about; None for a page of something else."""
    kind, _, name = address.partition("/")
    return name if kind in ("block", "pattern") else None


def href(address: str) -> str:
    """Return what leads to an address inside the document."""
    return f"#/{address}"
