"""The words for what `check` finds, by the names the facts have in `geometry/measuring`."""

FINDINGS = {
    "seam-uneven": (
        "{side} measures {side_mm:mm} and {mate} {mate_mm:mm}: {longer} is {by:mm} longer than "
        "{shorter}; they may differ by {tolerance:mm}. {*}"
    ),
    "seam-ease": (
        "{side} measures {side_mm:mm} and {mate} {mate_mm:mm}: the ease is {ease:mm}; {low:mm} to "
        "{high:mm} are allowed. {*}"
    ),
    "section-ease": ("Its {section} part {ease:has}; {low:mm} to {high:mm} are allowed there."),
    "sewn-down-to": "It is sewn down to the notch {mark} and open from there.",
    "kink": (
        "{first} and {second} meet at {measured:beyond} where they are sewn together at the "
        "{corner:point}; {right:degrees} would be right, and {slack:degrees} more or less are "
        "allowed."
    ),
    "kink-of-ends": (
        "The two ends of {first} meet at {measured:beyond} where they are sewn together at the "
        "{corner:point}; {right:degrees} would be right, and {slack:degrees} more or less are "
        "allowed."
    ),
    "outline": (
        "The outline of {piece} crosses or touches itself at {place}; {loop:fine} of it are caught "
        "in the loop."
    ),
    "outline-of-two": (
        "The outline of {piece} crosses or touches itself at {place} and {other}; {loop:fine} of "
        "it are caught in the loop."
    ),
    "dart-kink": (
        "{place} turns by {measured:beyond} where the dart {dart} is closed; {allowed:degrees} "
        "are allowed."
    ),
    "unstated": "No seam is stated for {piece}: what it is sewn to could not be walked.",
    "unstated-line": (
        "No seam is stated for {line}, and nothing says that it is free: it could not be walked."
    ),
    "beyond-end": (
        "The {mark} of {place} lies {measured:mm} from the {corner:point}, {by:fine} beyond the "
        "end of the line, which is {length:mm} long: it is drawn nowhere."
    ),
    "legs": (
        "The legs of the dart {dart} measure {first:mm} and {second:mm}: they differ by "
        "{measured:fine}; {allowed:fine} is allowed."
    ),
    "dart-outside": (
        "The dart {dart} runs out of the cloth: {measured:mm} of its sewing line lie outside the "
        "piece."
    ),
    "wave": (
        "{place} bends back and forth {at:mm} from its {corner:point}: it stands out by "
        "{measured:fine}; {allowed:fine} is allowed."
    ),
    "radius": (
        "{place} bends as tightly as a circle of {measured:mm} radius {at:mm} from its "
        "{corner:point}; {allowed:mm} is the least that is allowed."
    ),
    "corner-cut-otherwise": (
        "The {corner:point} of {piece} cannot be cut {how} as its allowances are: its lines do not "
        "meet so. It is cut as any other corner; change the allowances, or shape it otherwise with "
        "shape-corner."
    ),
    "cloth-left": (
        "Between {place} and {other} only {measured:mm} of cloth are left; {allowed:mm} is the "
        "least that is allowed."
    ),
}
