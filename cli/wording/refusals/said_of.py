"""Why what was pinned or drawn cannot be taken, in words."""

PINNED = {
    "one-side": "give what is on the left, on the right and on both each by itself",
    "give-place": "give at least one place, like front.side=8mm",
    "several-blocks": "the pieces come from {blocks}; name one",
    "one-of-two": "{kind} makes one change of the two; give one of them, or amounts alike",
    "write-pin": (
        "write it like front.side=8mm, or front.armhole=5mm@50% for a place along the edge"
    ),
    "above-nought-or-let-out": "give an amount above 0; what was too tight is let-out",
    "no-edge": "{place} is no edge; leave @ out",
    "no-place-along": "{kind} takes no place along {place}; leave it out",
    "several-darts": "{place} carries the darts {darts}; name one, or say where with @30%",
    "more-than-nought": "give how much it is, more than 0",
    "amount-noted": ", {by:mm}",
    "moves-by": "{edge} moves by up to {by:fine}",
}

DRAWINGS = {
    "only-long": "it is only {length:fine} long",
    "beyond": "a point or an amount lies beyond {most:metres}",
    "point-too-far": "a point of its path lies more than {most:metres} away",
    "ends-off": "it ends {gap:fine} from where {edge} starts",
    "ends-off-mouth": "it ends {gap:fine} from where its edge {edge} is parted",
    "starts-off": "it starts {away:fine} off the nearest edge",
    "no-line-follows": (
        "no other line of the piece starts where it ends, {x:mm} across and {y:mm} down"
    ),
    "many-follow": "more than one line starts where it ends, {x:mm} across and {y:mm} down",
}
