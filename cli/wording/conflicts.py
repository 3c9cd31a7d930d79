"""The words for conflicts that are no findings, by the names the facts have in `lineage`."""

CONFLICTS = {
    "step-left-out": '"{kind:kind}" was left out: {0}.',
    "doubled": (
        '{node} has "{kind:kind}" of its own already, and now inherits the same from {corrected}.'
    ),
    "drawn-anew": (
        '{node} draws this line anew by its own "{own:kind}", so "{kind:kind}", made on '
        "{corrected}, does not reach it."
    ),
    "arrives-in-part": (
        '{node} changes this line by its own "{own:kind}", so of "{kind:kind}", made on '
        "{corrected}, {got:mm} of {wanted:mm} arrive at {measure}."
    ),
    "arrives-otherwise": (
        '{node} changes this line by its own "{own:kind}", so of "{kind:kind}", made on '
        "{corrected}, {got:mm} instead of {wanted:mm} arrive at {measure}."
    ),
    "amended-twice": '{ours} made "{kind:kind}" of {node} ({mine}), and {theirs} ({other}).',
    "dropped-and-amended": (
        '{dropper} took "{kind:kind}" of {node} out, and {amender} gave it other amounts.'
    ),
    "made-twice": (
        '{ours} made "{kind:kind}" on {node} ({mine}), and {theirs} made it ({other}); both stand, '
        "one on top of the other."
    ),
    "added-and-amended": (
        '{adder} added "{kind:kind}" on {node} ({new}) where {amender} amended the one there '
        "({now}); both stand, one on top of the other."
    ),
    "decided-twice": (
        "{conflict} of {node} was decided as {mine} by {ours} and as {other} by {theirs}; what "
        "both did stands until one is chosen."
    ),
    "followed-twice": "{node} takes {mine} for {ours}, and {other} for {theirs}.",
    "drafted-twice": "{node} is drafted from {mine} by {ours}, and from {other} by {theirs}.",
}
