"""What became of the last correction, or re-measuring, in each pattern, in a sign and a word."""

from collections.abc import Mapping

from trueup.cli.render.replay import SIGNS
from trueup.lineage.chronicle import Chronicle
from trueup.lineage.opened import OpenWardrobe

_WORDS = {"correct": "corrected last", "remeasure": "re-measured last"}


def verdict_words(wardrobe: OpenWardrobe, until: str) -> Mapping[str, str]:
    """Return, for the node last corrected and each pattern below it, what to write beside it.

    A correction that was taken back does not count; nothing where there is none.
    """
    for entry in Chronicle(wardrobe, until).entries():
        if entry.verb in _WORDS and entry.taken_back_by is None:
            said = {
                p.name: f"{SIGNS[p.verdict][0]} {p.verdict.value}" for p in entry.effect.patterns
            }
            return {entry.node: _WORDS[entry.verb], **said}
    return {}
