"""The words for what files of earlier versions say, and nothing says any more."""

EARLIER = {
    "left-out": "{kind} was left out: {error}",
    "slash-through-dart": "the slash {at:mm} along the hem would run through the dart {dart}",
    "slash-runs-out": "the slash {at:mm} along the hem would run out at the {edge}",
    "slash-at-end": "the slash {at:mm} along the hem would end at a corner of the {edge}",
}
