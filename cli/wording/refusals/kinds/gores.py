"""Why a seam cannot be flared or a piece cut into gores, and what would be possible, in words."""

GORES = {
    "comes-to-no-hem": "{place} does not come down to a hem",
    "flare-above-dart": "the flare would begin above the dart {dart}",
    "flare-above-edge": "the flare would begin above the edge, of which there are {left:mm}",
    "lower-place": "let the flare begin lower",
    "flares-too-fast": "the flare would begin only {reach:mm} above the hem",
    "higher-place": "let the flare begin higher, or use a smaller amount",
    "aslant-and-flared": "its side comes down aslant, and is drawn on along itself",
    "flare-otherwise": "leave out the flare, and flare its seam by itself",
    "gores-to-hem": "a line from the {edge} to the hem would cut off a corner",
    "give-below": "say how far below the upper edge the flare begins",
    "only-with-flare": "it says where a flare begins, and none is asked for",
    "names-wanted": "give {count} names, one a gore",
}
