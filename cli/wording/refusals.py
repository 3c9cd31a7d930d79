"""The words for what is refused, by the names the reasons have in `geometry` and `lineage`.

None ends with a full stop: one can stand in another.
"""

_WHOLE = {
    "text": "{text}",
    "parts": "{+}",
    "length": "{mm:mm}",
    "cannot-change": "{kind} cannot be done on {place}: {0}; {1}",
    "does-not-fit": "it cannot be done: {0}; {1}",
    "bad-parameter": "{name} cannot be {0}: {1}",
    "bad-position": '"{0}" is not a place on an edge: {1}',
    "bad-length": '"{text}" is not a length: {0}; {1}',
}

_DOES_NOT_FIT = {
    "with-amount": "with {by:mm} {0}",
    "moved-by": "moved by {by:mm} {0}",
    "outline-crosses": "the outline would cross itself",
    "over-a-line": "the dart {dart} would run over another line",
    "would-wave": "the line would bend back and forth {at:mm} from its {corner}",
    "would-bend": (
        "the line would bend as tightly as a circle of {measured:mm} radius {at:mm} from its "
        "{corner}"
    ),
    "little-cloth": "only {left:mm} of cloth would be left between {one} and {other}",
    "reaches-dart": "it would reach the dart {dart}",
    "nothing-left": "nothing would be left of it",
    "hem-meets-dart": "the hem would meet the dart {dart}",
    "hem-meets-end": "the hem would meet the upper end of the {edge}",
    "ends-at-waist": "a piece that ends at the waist would end above it",
    "dart-not-met": "the new line no longer meets the dart {dart}",
    "dart-inside": "this dart lies inside the piece and opens on no edge",
    "cut-through-dart": "the cut runs through the dart {dart}",
    "legs-open-no-wider": "its legs of {leg:mm} open no wider",
    "mouth-at-tip": "its mouth would come up to its tip",
    "only-beside": "there are only {left:mm} of {edge} beside it",
    "left-up-to-dart": "{left:mm} of {edge} would be left up to the dart {dart}",
    "left-up-to-end": "{left:mm} of {edge} would be left up to the end of {edge}",
    "tip-past-pivot": "its tip would pass the pivot",
    "tip-out-of-mouth": "its tip would leave the dart at its mouth",
    "tip-short-of-pivot": (
        "its tip stops {setback:mm} short of its pivot, farther than the new place lies from it"
    ),
    "line-crosses-dart": "the line from its apex to {place} on {edge} crosses the dart {dart}",
    "line-leaves-cloth": "the line from its apex to {place} on {edge} leaves the cloth",
    "no-dart-on-fold": "{edge} lies on the fold of the cloth, where no dart can open",
    "opens-already": "it opens at {place} already",
    "other-opens": "the dart {dart} opens at {place}",
    "on-corner": "{place} lies on a corner of {edge}",
    "sewn-to-nothing": "{edge} is sewn to nothing",
    "opens-on-no-seam": "it opens on no seam",
    "level-on-end": "its level lies on the end of the armhole",
    "seam-on-end": "the seam would stand on end",
    "seam-past-armhole": "the seam would come past the part of the armhole that it can cut off",
    "armholes-uneven": "the armholes cannot be evened out",
    "neck-down-to-centre": "the neck point would come down to the centre of the neck",
    "neck-to-centre": "the neck point would come to the centre",
    "centre-up-to-neck-point": "the centre of the neck would come up to the neck point",
    "shape-crosses": "a {shape} neck between these ends would make the outline cross itself",
    "ends-in-line": "its ends lie straight across or straight above one another",
    "ends-are-one": "its ends are one point",
    "fold-stays-straight": "it lies on the fold of the cloth and must stay straight",
    "on-fold": "it lies on the fold of the cloth",
    "not-sewn-by": "the {seam} does not sew it",
    "crown-too-low": "a crown {height:mm} above the cap line would come too near it",
    "narrow-already": "it is {width:mm} wide and would lose {by:mm}",
    "another-size": "an ease of {ease:mm} would need a cap of another size altogether",
    "cap-size": "it is {height:mm} high and {room:mm} wide beside the crown",
    "cap-flat": "it is flat",
    "underarm-points-one": "its two underarm points are one",
}

_POSSIBLE = {
    "smaller-amount": "use a smaller amount",
    "as-far-as": "its amount can go as far as {by:most}",
    "no-amount": "no amount can be done there",
    "use-at-most": "use at most {by:most}",
    "raise-at-most": "it can be raised by at most {by:most}",
    "lose-at-most": "it can lose at most {by:most}",
    "take-in-at-most": "it can take in at most {by:most} more",
    "let-out-at-most": "it can be let out by at most {by:most}",
    "intake-at-most": "its intake can be at most {intake:most}",
    "intake-at-least": "its intake can be at least {intake:least}",
    "leave-intake": "leave its intake as it is",
    "leave-it-there": "leave it where it is",
    "leave-as-is": "leave it as it is",
    "ease-from-to": "changing its {how} can bring the ease from {least:least} to {most:most}",
    "smaller-or-move-dart": "use a smaller amount or move the dart first",
    "name-edge-dart": "name a dart that opens on an edge",
    "another-place": "choose another place",
    "another-edge": "choose another edge",
    "name-another-edge": "name another edge",
    "redraw-another": "redraw another edge",
    "place-or-shorten": "choose another place, or first shorten that dart with move-apex",
    "place-in-sight": "choose a place the apex looks at freely",
    "away-from-ends": (
        "choose a place at least {room:least} from the ends of an edge of {length:mm}"
    ),
    "tip-back-first": "bring the tip back with move-apex first",
    "rotate-first": "rotate the dart to another edge first",
    "leave-eased-out": "leave eased out",
    "between-ends": "choose a place between shoulder point and underarm",
    "shape-or-ends": "use another shape, or move the ends first",
    "neck-first": "lower or widen the neck first",
    "move-apart": "move them apart",
    "give-amount": "give an amount instead",
    "shorten-lengthened": "shorten only what was lengthened before",
    "take-off-less": "take off less than that",
    "redraw-cap-first": "redraw the cap first",
}

NOUGHT = {
    "as-far-as": "no-amount",
    "use-at-most": "leave-it-there",
    "raise-at-most": "no-amount",
    "lose-at-most": "no-amount",
    "take-in-at-most": "leave-intake",
    "let-out-at-most": "leave-intake",
    "intake-at-most": "leave-intake",
}
"""What is said instead of a limit that is nothing in the maker's unit."""

_LINES = {
    "no-curve": "a line needs at least one curve",
    "line-gap": "a line has a gap between {end} and {start}",
    "cannot-split": "a line of {length:mm} cannot be split at {at:mm}",
    "no-direction": "a line that ends where it starts cannot be fitted to two points",
    "too-many-curves": "a line of more than {most} curves would be drawn anew",
    "too-few-points": "a smooth line needs at least two points",
    "twice-through": "a smooth line cannot pass twice through {point}",
    "fair-to-itself": "no line can be drawn fair from {point} to itself",
    "parts-and-darts": "the edge {edge} has {parts} parts and {darts} darts",
    "edges-apart": "the edges {first} and {second} of {piece} do not meet",
    "name-twice": "the name {name} stands twice in {piece}",
}

_VALUES = {
    "between": "it lies between {low:least} and {high:most}",
    "between-numbers": "it lies between {low} and {high}",
    "between-with-bust": ("with a bust of {bust:mm} it lies between {low:least} and {high:most}"),
    "at-least-with-bust": "with a bust of {bust:mm} it is at least {least:least}",
    "at-most": "it is at most {most:most}",
    "system-needs": "{system} needs it, the {help}",
    "kind-needs": "{kind} needs it: {help}",
    "give-either": "give {first} or {second}",
    "give-one": "give one of the two",
    "give-length": "give a length",
    "true-or-false": "it is true or false",
    "plain-number": "it is a plain number",
    "changes-nothing": "an amount of 0 would change nothing",
    "is-a-name": "it is a name",
    "is-a-unit": "it is mm, cm or in",
    "one-of": "it is one of {choices}",
    "height-follows": "with a given width the height follows",
    "biceps-or-hem": "widen the sleeve at the biceps or at the hem",
    "one-tip": "a dart that opens on an edge has one tip",
    "only-longer-flares": "only a longer piece can be flared",
    "edge-ends-where-it-starts": "the edge ends where it starts",
    "give-points": "give 1 to {most} points",
    "write-points": "write it like '25%:6mm 50%:14mm 80%:9mm'",
    "shares-go-up": "its shares go up from point to point",
    "share-range": "a share lies between 0% and 100%",
    "write-unit": "write the unit of every distance, as in 6mm",
    "distance-or-share": "give a distance or a share",
    "distance-from": "{distance:mm} from {corner}",
    "distance-not-negative": "a distance along an edge is not negative",
    "write-position": "write it like '60mm from underarm' or '40% from underarm'",
    "edge-only": "the edge {edge} is only {length:mm} long",
}

_LENGTHS = {
    "write-length": 'write a number with mm, cm or in ("), as in 12mm, 1.2cm or 1 1/2in',
    "far-too-long": "it is far too long to be one",
    "empty": "it is empty",
    "hyphen-or-minus": "the hyphen could be a minus",
    "space-before-fraction": (
        "put a space between the whole number and the fraction, as in 1 1/2in"
    ),
    "no-number-and-unit": "it does not read as one number and its unit",
    "unknown-unit": "{unit} is not a known unit",
    "comma-or-thousands": "the comma could be a decimal comma or stand for thousands",
    "write-either": "write {one} or {other}",
    "divided-by-nought": "nothing can be divided by 0",
    "fraction-over-one": "the fraction after the whole number is not less than one",
    "whole-and-rest": "write the whole number and what is left over, as in 1 1/2in",
    "not-finite": "it is not a finite number",
    "give-millimetres": "give a length in millimetres",
    "more-than": "it is more than {most:metres}",
    "slipped-decimal": "look for a slipped decimal or a wrong unit",
}

_PINNED = {
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

_DRAWINGS = {
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

REFUSALS = {
    **_WHOLE,
    **_DOES_NOT_FIT,
    **_POSSIBLE,
    **_LINES,
    **_VALUES,
    **_LENGTHS,
    **_PINNED,
    **_DRAWINGS,
}
