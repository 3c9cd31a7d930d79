"""Why a mark, a closure or a corner of an allowance cannot be, and what would be, in words."""

MARKS = {
    "level-not-met": "the level {level} does not meet it",
    "leaves-piece": "it would reach {beyond:mm} beyond the piece",
    "dart-only-long": "from its tip to its mouth the dart is only {length:mm} long",
    "nearer-the-tip": "choose a place nearer the tip",
}
