"""Which steps were recorded, for whoever has to say so although something failed afterwards."""

STEPS: list[str] = []
"""The ids of the commits that this process recorded, the last one last."""

EDITS: set[str] = set()
"""Those of them that hold nothing but what the maker edited by hand."""


def say_recorded(commit: str) -> None:
    """Tell that a step counts from now on."""
    STEPS.append(commit)


def say_only_edits(commit: str) -> None:
    """Tell that a step held nothing but the maker's own edits."""
    EDITS.add(commit)
