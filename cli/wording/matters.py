"""The words for what a conflict is about, in one short clause, as it waits and as it was.

`[holds|held]` is how it is said of what waits, and of what is settled.
"""

MATTERS = {
    "holds-too-little": "{line} [holds|held] {by} too little",
    "holds-too-much": "{line} [holds|held] {by} too much",
    "too-short": "{line} [is|was] {by} too short for what it is sewn to",
    "too-long": "{line} [is|was] {by} too long for what it is sewn to",
    "uneven": "{longer} [is|was] {by} longer than {shorter}",
    "kink": "{line} [does|did] not run on smoothly: it [is|was] {degrees} off",
    "dart-kink": "{line} [turns|turned] where the dart is closed: it [is|was] {degrees} off",
    "legs": "the legs of {dart} [differ|differed]",
    "dart-outside": "{dart} [runs|ran] out of the cloth",
    "outline": "the outline of {piece} [crosses|crossed] itself",
    "wave": "{line} [bends|bent] back and forth",
    "radius": "{line} [bends|bent] too tightly",
    "cloth-left": "too little cloth [is|was] left at {line}",
    "narrow": "too little cloth [is|was] left at {line}",
    "unstated": "no seam [is|was] stated for {piece}",
    "missing": "a step no longer [finds|found] its place: {step}",
    "impossible": "a step [can|could] no longer be made: {step}",
    "drawn-anew": "the correction of {corrected} [does|did] not reach {line}",
    "arrives-in-part": "only {got} of {wanted} of a correction [arrive|arrived] at {line}",
    "arrives-otherwise": "{got} instead of {wanted} of a correction [arrive|arrived] at {line}",
    "doubled": "{line} [has|had] the same correction twice",
    "two-makers": "two makers [want|wanted] it otherwise at {line}",
    "other": "something [does|did] not hold at {line}",
}
