"""The words for what files of earlier versions say, and nothing says any more."""

EARLIER = {
    "left-out": "{kind} was left out: {error}",
}
