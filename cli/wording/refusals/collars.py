"""Why a collar, a hood or another piece drafted to a line cannot be drawn so, in words."""

COLLARS = {
    "overlaps-too-far": "the neck edge would be as good as straight",
    "lowers-too-far": "the neck edge would have to be longer to come so low",
    "hollow-corner": "beside a hollow corner of the neck there is no room for it",
    "rounds-too-far": "its front edge is too short for so large a round",
    "drops-too-far": "so short a neck edge cannot end so low",
    "hood-behind-neck": "its back would slant forward by {aside:mm} from the head to the neck",
    "hood-before-neck": "its back would slant backward by {aside:mm} from the head to the neck",
    "at-most-deep": "make it at most {by:most} deep",
    "at-least-deep": "make it at least {by:least} deep",
    "none-on-fold": "what begins on the fold of the cloth has none",
    "name-two-lines": "name two edges, that of the back from its centre and that of the front",
}
