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
}
