"""What the lines of a drawing seem to be, as JSON: lengths and places in mm."""

from trueup.cli.json.forms import Form, mm
from trueup.cli.render.patterns.proposal import edge_lengths, line_names
from trueup.lineage.drawings.proposing.drawing_file import LookedAt
from trueup.lineage.drawings.seen.found import Inner, Notched


def proposal_form(looked: LookedAt) -> Form:
    """Return a proposal as plain values, in mm."""
    names = line_names(looked.stated)
    lengths = edge_lengths(looked.found, looked.stated)
    return {
        "proposed": True,
        "size": looked.found.size,
        "notes": list(looked.found.notes),
        "lines": [
            {
                "line": line.number,
                "taken_for": names.get(line.number),
                "length_mm": mm(line.chain.length),
                "looks_like": "dart"
                if isinstance(line, Notched)
                else (line.looks.value if isinstance(line, Inner) else "edge"),
                "start": [mm(line.chain.start.real), mm(line.chain.start.imag)],
                "end": [mm(line.chain.end.real), mm(line.chain.end.imag)],
            }
            for piece in looked.found.pieces
            for line in (*piece.ring, *piece.inner)
        ],
        "pieces": [
            {
                "name": piece.name,
                "form": form,
                "named_by": by.value if by else None,
                "turned_degrees": round(turned, 2),
                "fold": piece.fold,
                "levels": dict(piece.levels),
                "edges": {e: mm(lengths[f"{piece.name}.{e}"]) for e in piece.edges},
            }
            for piece, form, by, turned in zip(
                looked.stated.pieces, looked.forms, looked.named_by, looked.turns, strict=False
            )
        ],
        "seams": [
            {
                "name": seam.name,
                "side": list(seam.side),
                "mate": list(seam.mate),
                "ease_low_mm": mm(seam.low),
                "ease_high_mm": mm(seam.high),
            }
            for seam in looked.stated.seams
        ],
    }
