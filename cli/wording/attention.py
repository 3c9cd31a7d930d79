"""The words for what needs attention: a heading for each matter, by how much of it there is."""

HEADS = {
    "conflicts": ("{n} conflict waits for a decision", "{n} conflicts wait for a decision"),
    "findings": ("{n} finding is open", "{n} findings are open"),
    "held": ("{n} pattern is held", "{n} patterns are held"),
    "notes": ("{n} fit note is not resolved", "{n} fit notes are not resolved"),
    "outgrown": (
        "{n} garment was cut before its pattern changed",
        "{n} garments were cut before their pattern changed",
    ),
    "behind": (
        "{n} block does not follow what was measured",
        "{n} blocks do not follow what was measured",
    ),
    "files": ("{n} thing to see to in the files", "{n} things to see to in the files"),
}
NOTHING = (
    "Nothing needs attention: no decision waits, every pattern is true and follows its parent, and "
    "nothing is open on a garment."
)
EMPTY = "Nothing is here yet."


def head(matter: str, count: int) -> str:
    """Return the heading of a matter.

    >>> head("conflicts", 1)
    '1 conflict waits for a decision'
    """
    one, many = HEADS[matter]
    return (one if count == 1 else many).format(n=count)
