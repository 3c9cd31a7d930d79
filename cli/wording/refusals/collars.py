"""Why a collar, a hood or another piece drafted to a line cannot be drawn so, in words."""

COLLARS = {
    "overlaps-too-far": "the neck edge would be as good as straight",
    "lowers-too-far": "the neck edge would have to be longer to come so low",
    "rounds-too-far": "its front edge is too short for so large a round",
    "name-two-lines": "name two edges, that of the back from its centre and that of the front",
}
