"""Which steps were recorded, for whoever has to say so although something failed afterwards."""

STEPS: list[str] = []
"""The ids of the commits that this process recorded, the last one last."""


def say_recorded(commit: str) -> None:
    """Tell that a step counts from now on."""
    STEPS.append(commit)
