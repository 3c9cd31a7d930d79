"""The words for conflicts that are no findings, by the names the facts have in `lineage`."""

CONFLICTS = {
    "step-left-out": "{kind} was left out: {0}.",
    "doubled": "{node} has a {kind} of its own already, and now inherits another from {corrected}.",
    "drawn-anew": (
        "{node} draws this line anew with its own {own}, so the {kind} made on {corrected} does "
        "not reach it."
    ),
    "arrives-in-part": (
        "{node} changes this line with its own {own}, so of the {kind} made on {corrected} "
        "{got:mm} of {wanted:mm} arrive at {measure}."
    ),
    "arrives-otherwise": (
        "{node} changes this line with its own {own}, so of the {kind} made on {corrected} "
        "{got:mm} instead of {wanted:mm} arrive at {measure}."
    ),
    "amended-twice": "{ours} made the {kind} of {node} ({mine}), and {theirs} ({other}).",
    "dropped-and-amended": (
        "{dropper} took the {kind} of {node} out, and {amender} gave it other amounts."
    ),
    "made-twice": (
        "{ours} made a {kind} on {node} ({mine}), and {theirs} one ({other}); both stand, one on "
        "top of the other."
    ),
    "added-and-amended": (
        "{adder} added a {kind} on {node} ({new}) where {amender} amended the one there ({now}); "
        "both stand, one on top of the other."
    ),
    "decided-twice": (
        "{conflict} of {node} was decided as {mine} by {ours} and as {other} by {theirs}; what "
        "both did stands until one is chosen."
    ),
    "followed-twice": "{node} takes {mine} for {ours}, and {other} for {theirs}.",
    "drafted-twice": "{node} is drafted from {mine} by {ours}, and from {other} by {theirs}.",
}
