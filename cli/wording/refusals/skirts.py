"""Why a skirt, a pleat or a hem cannot be made so, and what would be possible, in words."""

SKIRTS = {
    "flare-at-corner": "the slash below the dart {dart} would end at a corner of the hem",
    "hem-not-below": "the hem does not lie below the dart {dart}",
    "give-hem-place": "say where on the hem the slash ends",
    "flare-through-dart": (
        "the slash from the dart {dart} to the hem would run through the dart {other}"
    ),
    "flare-leaves-cloth": "the slash from the dart {dart} to the hem would leave the cloth",
    "dart-out-of-the-way": "turn, release or shorten that dart first, or choose another place",
    "close-whole-dart": "close the whole dart",
    "close-smaller-share": "close a smaller share of the dart",
    "pleat-runs-out": (
        "the pleat {pleat}, {depth:mm} deep, would run out of the cloth at the {edge}"
    ),
    "pleat-elsewhere": "use a smaller depth, or choose another place",
    "pleats-elsewhere": "the pleat {pleat} of this piece runs from its {edge} to its {other}",
    "pleat-between-those": "lay this one between the same two edges",
    "pleats-cross": "the pleat {pleat} would cross the pleat {other}",
    "pleat-no-line": "the pleat {pleat} would begin where it ends",
    "pleat-meets-dart": "the pleat {pleat} would lie over the dart {dart}",
    "dart-off-pleat": "turn, release or shorten that dart first, or choose another place",
    "pleat-misses": "a pleat straight down from {edge} would not come to the {other}",
    "give-pleat-end": "say where on that edge it ends",
    "is-pleated": "it is laid in the pleats {pleats}",
    "cut-before-pleats": "cut it apart before it is pleated",
    "part-is-pleated": "its part {part} is laid in pleats",
    "pleats-need-spacing": "several pleats need to know how far apart they lie",
    "only-knife-looks": "only a knife pleat looks to one side",
    "dart-on-spread": "the dart {dart} opens on the {edge}",
    "dart-off-first": "turn or release the dart first",
    "spread-through-dart": ("the slash {at:mm} along the {edge} would run through the dart {dart}"),
    "spread-runs-out": "the slash {at:mm} along the {edge} would not come to the {other}",
    "hem-from-side-to-centre": "its hem does not run from a side to the centre",
    "name-another-piece": "name another piece",
}
