"""The words for amounts that are more than is recommended; they are made all the same."""

NO_SOURCE = "common practice, no source"

BEYOND = {
    "beyond-usual": (
        "{kind} by {amount:mm} is more than the {most:mm} that are usual at most (common practice, "
        "no source): look at it on the body before you cut"
    ),
    "beyond-recommended": (
        "{kind} by {amount:mm} is more than the {most:mm} that are recommended at most "
        "({source}): look at it on the body before you cut"
    ),
}
