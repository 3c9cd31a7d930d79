"""Seam and hem allowances of a piece: the cloth that is cut outside its seam lines."""

from collections.abc import Mapping
from dataclasses import replace

from trueup.geometry.pieces.piece import Piece

HEM = "hem"


def allowed(piece: Piece, amounts: Mapping[str, float]) -> Piece:
    """Return the piece with other allowances on the named edges, mm; the rest keep theirs.

    Edge names are the keys; an amount of nought takes the allowance off. Raises NoSuchName.
    """
    for name in amounts:
        piece.edge(name)
    merged = {**dict(piece.allowances), **amounts}
    kept = tuple(sorted((name, mm) for name, mm in merged.items() if mm > 0))
    return replace(piece, allowances=kept)
