"""Why a piece cannot be renamed, and what would be possible, in words."""

PIECES = {
    "is-called-so": "it is called {name} already",
    "alike-on-both": "left and right have the same {piece}",
    "rename-on-both": "rename it on both sides, or change it on one first",
}
