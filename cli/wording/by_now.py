"""The words for what has become of a correction by now, and what each of them means."""

JUDGED = {
    "carried": "all of it arrived",
    "partly": "only a part of it arrived",
    "lost": "nothing of it arrived",
    "doubled": "it was made there already",
    "conflict": "something does not hold with it",
    "held": "stays on an earlier version, which it does not reach",
}
"""What each verdict means."""

OPEN = "waits for a decision"
BY_NOW = {
    "conflict above": "shows a conflict that arose above it",
    "accepted": "it was decided to leave it so",
    "settled": "was in conflict, and holds again",
    "follows again": "stayed on an earlier version then, and follows again",
}
"""What each word for what came after the verdict means."""


def waiting(count: int) -> str:
    """Return how many patterns wait for a decision."""
    return f"{count} {'waits' if count == 1 else 'wait'} for a decision"
