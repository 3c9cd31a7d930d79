"""A change as it is told on a draft that calls things otherwise than the one it was written for."""

from collections.abc import Mapping
from typing import Any

from trueup.geometry.calling.other_names import DART, OtherNames
from trueup.geometry.changes.base import kind_named
from trueup.geometry.changes.declaring import ParameterType
from trueup.geometry.changes.parameters import Parameter, parameters
from trueup.geometry.errors import GeometryError

_OF_PIECES = ("piece", "seam")
_NEW_NAMES = ("name", "parts", "line")
"""Parameters by which something is called that the change makes."""


def told_elsewhere(
    kind: str, version: int, values: Mapping[str, Any], names: OtherNames
) -> dict[str, Any]:
    """Return the written values of a change with what they name called as it is there.

    Those of a kind or version that is not known stay as they are.
    """
    try:
        known = {each.name: each for each in parameters(kind_named(kind, version))}
    except GeometryError:
        return dict(values)
    return {
        name: _told(known[name], text, values, names)
        if name in known and isinstance(text, str)
        else text
        for name, text in values.items()
    }


def _told(parameter: Parameter, text: str, values: Mapping[str, Any], names: OtherNames) -> str:
    if parameter.type is ParameterType.POSITION:
        amount, between, corner = text.rpartition(" ")
        return f"{amount}{between}{names.corner(_piece(parameter, values), corner)}"
    if parameter.type not in (ParameterType.NAME, ParameterType.TEXT):
        return text
    piece = _piece(parameter, values)
    return " ".join(_word(parameter, word, piece, names) for word in text.split())


def _word(parameter: Parameter, word: str, piece: str, names: OtherNames) -> str:
    if parameter.of in _OF_PIECES:
        return names.piece(word)
    if parameter.of == DART:
        return names.dart(word) if "." in word else names.word(piece, DART, word)
    if "." in word:
        return names.edge(word)
    if parameter.name in _NEW_NAMES or not piece:
        return word
    edge = names.edge(f"{piece}.{word}").partition(".")[2]
    return edge if edge != word else names.word(piece, DART, word)


def _piece(parameter: Parameter, values: Mapping[str, Any]) -> str:
    """Return the piece that a change is told of where it names an edge or a corner alone."""
    for name in (parameter.of, "edge", "begins", "dart", "piece"):
        piece, dot, _ = str(values.get(name, "")).partition(".")
        if dot:
            return piece
    on, dot, _ = parameter.of.partition(".")
    return on if dot else str(values.get("piece", ""))
