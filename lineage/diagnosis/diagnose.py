"""From a symptom to what to check in order, read against the pattern at hand. It never decides."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from trueup.geometry.errors import NoSuchName
from trueup.geometry.pieces.draft import Draft
from trueup.geometry.pieces.side import unsided
from trueup.geometry.said import Said
from trueup.geometry.sides.naming import names_at
from trueup.geometry.sides.parting import one_side
from trueup.lineage.diagnosis.proposing import Proposed, amount_of, tried
from trueup.lineage.diagnosis.readings import Reading, as_cut, read_off, ways_up
from trueup.lineage.errors import Damaged, UnknownRevision
from trueup.lineage.evaluation.evaluate import Evaluator
from trueup.lineage.evaluation.origin import Origin, origin
from trueup.lineage.files.garment_records import FitNote, GarmentRecord
from trueup.lineage.garments.notes import OTHER, places, symptom_of
from trueup.lineage.symptoms.rows import PIECE, ROWS, Area, Check, SymptomRow


@dataclass(frozen=True)
class Advice:
    """One check as it stands on the pattern at hand. Amounts in mm.

    `amount` is what was noted, or the least typical one, and no more than the largest recommended;
    `capped` says that it was more. `proposed` belongs to the node where the fault lies, `here` to
    this pattern alone where that is another. `obstacle` says why nothing is proposed although
    there is a kind of change.
    """

    check: Check
    fits_place: bool
    readings: tuple[Reading, ...]
    origin: Origin | None
    amount: float | None = None
    capped: bool = False
    proposed: Proposed | None = None
    here: Proposed | None = None
    obstacle: Said | str = ""


@dataclass(frozen=True)
class Look:
    """Something to look at where only words are known, and the symptom it would speak for."""

    area: Area
    look_at: str
    symptom: str
    fits_place: bool


@dataclass(frozen=True)
class Diagnosis:
    """What a symptom seen on a pattern may come from, in the order it is to be checked.

    `looks` stands in the place of `advice` where the symptom is not in the vocabulary. `usual`
    says whether the symptom is usually seen at the place. `not_read` is what kept the version that
    the garment was cut from from being set beside it.
    """

    node: str
    symptom: str
    words: str
    place: str
    amount: float | None
    usual: bool
    advice: tuple[Advice, ...] = ()
    looks: tuple[Look, ...] = ()
    garment: GarmentRecord | None = field(default=None)
    note: FitNote | None = field(default=None)
    not_read: Damaged | UnknownRevision | None = field(default=None)


def diagnose(
    evaluator: Evaluator,
    node: str,
    symptom: str,
    place: str | None = None,
    amount: float | None = None,
    garment: GarmentRecord | None = None,
) -> Diagnosis:
    """Return what to check for a symptom seen on a node, or on a garment cut from it.

    `place` is an edge such as front.armhole, a level or a piece; `amount` what was seen, mm.
    Raises NoSuchNode, NoSuchSymptom for one outside the vocabulary but "other", NoSuchName for a
    place that neither the pattern nor the version the garment was cut from has.
    """
    evaluator.state.node(node)
    place = place or ""
    if place:
        _require_place(evaluator, node, place, garment)
    if symptom != OTHER:
        symptom = symptom_of(symptom, "")
    else:
        return Diagnosis(node, OTHER, "", place, amount, True, (), _looks(place), garment)
    row = ROWS[symptom]
    cut, not_read = as_cut(evaluator, garment)
    at_hand = _AtHand(evaluator, node, row, unsided(place), amount, cut)
    advice = sorted((at_hand.advice(check) for check in row.checks), key=lambda a: not a.fits_place)
    usual = not place or _fits(place, row)
    return Diagnosis(
        node,
        symptom,
        row.words,
        place,
        amount,
        usual,
        tuple(advice),
        garment=garment,
        not_read=not_read,
    )


def diagnose_note(
    evaluator: Evaluator,
    garment: GarmentRecord,
    note: FitNote,
    place: str | None = None,
    amount: float | None = None,
) -> Diagnosis:
    """Return what to check for a fit note; a symptom in free words is taken as "other"."""
    known = note.symptom if note.symptom in ROWS else OTHER
    found = diagnose(
        evaluator,
        garment.pattern,
        known,
        place or note.place,
        note.amount_mm if amount is None else amount,
        garment,
    )
    words = found.words
    if known == OTHER:
        words = ": ".join(said for said in (note.symptom, note.words) if said not in ("", OTHER))
    return Diagnosis(**{**found.__dict__, "words": words, "note": note})


@dataclass(frozen=True)
class _AtHand:
    """What a row is read against."""

    evaluator: Evaluator
    node: str
    row: SymptomRow
    place: str
    amount: float | None
    cut: Mapping[str, float]

    def advice(self, check: Check) -> Advice:
        edge = self._edge(check)
        measures = read_off(self.evaluator, self.node, check.reads, self.row.symptom, self.cut)
        fits = not self.place or _fits(self.place, self.row) or self.place == edge
        if edge not in one_side(self.draft).edge_names:
            return Advice(check, fits, measures, None, obstacle=_missing(check, edge, self.node))
        piece = edge.partition(".")[0]
        there = names_at(self.draft.edge_names, edge)[0]
        shaped = origin(self.evaluator, self.node, *self.draft.split_edge_name(there))
        amount, capped = amount_of(check, self.amount)
        if check.kind is None:
            return Advice(check, fits, measures, shaped, amount, capped)
        belongs, obstacle = self._belongs(check, shaped, piece, amount)
        here, trouble = tried(self.evaluator, check, self.node, piece, amount)
        return Advice(
            check,
            fits,
            measures,
            shaped,
            amount,
            capped,
            belongs or here,
            here if belongs and belongs != here else None,
            "" if belongs or here else obstacle or trouble,
        )

    @property
    def draft(self) -> Draft:
        """Return the draft of the node."""
        return self.evaluator.draft(self.node)

    def _edge(self, check: Check) -> str:
        """Return the edge that carries the fault, on the piece complained of where it has it."""
        names = one_side(self.draft).edge_names
        for place in (self.place, *self.row.places):
            edge = check.shapes.replace(PIECE, place.partition(".")[0])
            if edge in names:
                return edge
        return check.shapes.replace(PIECE, self.row.places[0].partition(".")[0])

    def _belongs(
        self, check: Check, shaped: Origin, piece: str, amount: float | None
    ) -> tuple[Proposed | None, Said | str]:
        """Return the correction on the nearest node, from the edge's origin upwards, that takes it.

        None, and why, where the pattern does not follow its origin as that is now.
        """
        way = list(ways_up(self.evaluator, self.node, piece))
        if shaped.node not in way:
            return None, ""
        refused: Said | str = ""
        for node in way[way.index(shaped.node) :]:
            proposed, obstacle = tried(self.evaluator, check, node, piece, amount)
            if proposed:
                return proposed, ""
            refused = refused or obstacle
        return None, refused


def _missing(check: Check, edge: str, node: str) -> str:
    return f"{node} has no {edge}" if check.kind else ""


def _fits(place: str, row: SymptomRow) -> bool:
    """Return whether a symptom is usually seen at a place; a piece stands for all its edges."""
    return any(
        place == usual or usual.startswith(f"{place}.") or place.partition(".")[2] == usual
        for usual in row.places
    )


def _looks(place: str) -> tuple[Look, ...]:
    """Return what there is to look at in the general order, what fits the place first."""
    found = [
        Look(check.area, check.look_at, row.symptom, bool(place) and _fits(place, row))
        for row in ROWS.values()
        for check in row.checks
    ]
    return tuple(sorted(found, key=lambda look: (not look.fits_place, look.area.rank)))


def _require_place(
    evaluator: Evaluator, node: str, place: str, garment: GarmentRecord | None
) -> None:
    """Raise NoSuchName for a place that neither the pattern nor the cut cloth has."""
    draft = evaluator.draft(node)
    known = [*_places(draft), *_places(one_side(draft))]
    if place not in known and garment is not None and evaluator.earlier is not None:
        known += _places(evaluator.earlier(garment.cut_from).draft(garment.pattern))
    if place not in known:
        raise NoSuchName("place", place, node, tuple(dict.fromkeys(known)))


def _places(draft: Draft) -> tuple[str, ...]:
    levels = [f"{piece.name}.{level.name}" for piece in draft.pieces for level in piece.levels]
    return (*places(draft), *draft.piece_names, *levels)
