"""Why a step was made, as its commit says it beside what was measured then."""

import re

_MEASURED = re.compile(r"[a-z0-9-]+(\.[a-z0-9-]+)+ -?[0-9.]+ -> -?[0-9.]+ mm")


def reason(body: str) -> str:
    """Return the words of a commit below its subject, without the measures that end them."""
    paragraphs = [each for each in re.split(r"\n[ \t]*\n", body.strip()) if each.strip()]
    if paragraphs and all(map(_MEASURED.fullmatch, paragraphs[-1].split("\n"))):
        paragraphs.pop()
    return "\n\n".join(paragraphs)
