"""What an amount bound to the body comes to: a small grammar of sums, shares and measurements.

    sum     = product (("+" | "-") product)*
    product = signed (("*" | "/" | "of") signed | signed after a plain number)*
    signed  = ["-" | "+"] value
    value   = number ["%"] | length | measurement | "(" sum ")"

Numbers and lengths are kept apart: a length times a length is no length, and a number is not added
to one. All is worked out in exact fractions; nothing is ever run.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from trueup.geometry.errors import BadLength, shown
from trueup.geometry.limits import DEEPEST_AMOUNT, LONGEST_AMOUNT
from trueup.geometry.said import Said, said
from trueup.geometry.units import parse_length

Body = Mapping[str, tuple[float, ...]]
"""The measurements of a body by name, mm: more than one where pieces come from two bodies."""

_SIGNS = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"
_UNIT = r"""(?:mm|cm|in|["″”])(?![A-Za-z])"""
_NUMBER = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_TOKEN = re.compile(
    rf"""\s*(?:
    (?P<length>(?:[0-9]+\s{{1,3}}[0-9]+/[0-9]+|[0-9]+/[0-9]+|{_NUMBER}|[0-9]*[{_SIGNS}])\s?{_UNIT})
  | (?P<number>{_NUMBER}|[{_SIGNS}])
  | (?P<name>[A-Za-z]+(?:-[A-Za-z]+)*)
  | (?P<sign>[-+*/%()×·÷⁄−])
    )""",
    re.VERBOSE | re.IGNORECASE,
)
_AS = {"×": "*", "·": "*", "÷": "/", "⁄": "/", "−": "-"}
_WRITE = said("bound-write")


@dataclass(frozen=True)
class _Quantity:
    """A number, or that many mm where `power` is 1."""

    amount: Fraction
    power: int = 0


@dataclass(frozen=True)
class _Token:
    sort: str
    text: str


def worth(text: str, body: Body) -> Fraction:
    """Return what an amount comes to on a body, mm.

    Raises BadLength for a text that is none, that names what was not measured, divides by nought,
    is too long or too deep, or does not come to a length.

    >>> body = {"bust": (880.0,), "waist": (700.0,)}
    >>> [float(worth(text, body)) for text in ("bust/8", "4% of waist", "1/24 bust + 1cm")]
    [110.0, 28.0, 46.666666666666664]
    """
    if len(text) > LONGEST_AMOUNT:
        raise BadLength(text, said("far-too-long"), _WRITE)
    found = _Reader(text, _tokens(text), body).whole()
    if found.power != 1:
        raise BadLength(text, said("bound-no-length"), _WRITE)
    return found.amount


def _tokens(text: str) -> tuple[_Token, ...]:
    found: list[_Token] = []
    at, end = 0, len(text.rstrip())
    while at < end:
        match = _TOKEN.match(text, at)
        if match is None:
            raise BadLength(text, said("bound-unread", at=shown(text[at:].strip())), _WRITE)
        sort = str(match.lastgroup)
        word = match[sort].lower()
        found.append(_Token("of", word) if word == "of" else _Token(sort, _AS.get(word, word)))
        at = match.end()
    return tuple(found)


class _Reader:
    """Reads one text from its first token to its last."""

    def __init__(self, text: str, tokens: Sequence[_Token], body: Body) -> None:
        self._text, self._tokens, self._body = text, tokens, body
        self._at = self._deep = 0

    def whole(self) -> _Quantity:
        """Return what all of it comes to."""
        found = self._sum()
        if self._next is not None:
            raise self._refused(said("bound-unread", at=self._next.text))
        return found

    @property
    def _next(self) -> _Token | None:
        return self._tokens[self._at] if self._at < len(self._tokens) else None

    def _take(self, *texts: str) -> str:
        """Return the next token's text where it is one of some, and go on; empty otherwise."""
        token = self._next
        if token is None or token.sort not in ("sign", "of") or token.text not in texts:
            return ""
        self._at += 1
        return token.text

    def _sum(self) -> _Quantity:
        found = self._product()
        while sign := self._take("+", "-"):
            other = self._product()
            if found.power != other.power:
                raise self._refused(said("bound-adds"), said("bound-unit"))
            amount = found.amount + (other.amount if sign == "+" else -other.amount)
            found = _Quantity(amount, found.power)
        return found

    def _product(self) -> _Quantity:
        found = self._signed()
        while True:
            sign = self._take("*", "/", "of")
            if not sign and not (found.power == 0 and self._is_value):
                return found
            other = self._signed()
            if sign == "/" and not other.amount:
                raise self._refused(said("bound-nought"))
            amount = found.amount / other.amount if sign == "/" else found.amount * other.amount
            found = _Quantity(amount, found.power + (-other.power if sign == "/" else other.power))

    @property
    def _is_value(self) -> bool:
        """Whether a measurement follows, as in `1/8 bust`."""
        return self._next is not None and self._next.sort == "name"

    def _signed(self) -> _Quantity:
        sign = self._take("-", "+")
        found = self._value()
        return _Quantity(-found.amount, found.power) if sign == "-" else found

    def _value(self) -> _Quantity:
        token = self._next
        if token is None:
            raise self._refused(said("bound-ends"))
        self._at += 1
        match token.sort:
            case "length":
                return _Quantity(Fraction(str(parse_length(token.text))), 1)
            case "number":
                number = _number(token.text)
                return _Quantity(number / 100 if self._take("%") else number)
            case "name":
                return _Quantity(self._measured(token.text), 1)
            case _ if token.text == "(":
                return self._bracketed()
        raise self._refused(said("bound-unread", at=token.text))

    def _bracketed(self) -> _Quantity:
        self._deep += 1
        if self._deep > DEEPEST_AMOUNT:
            raise self._refused(said("bound-too-deep"))
        found = self._sum()
        if not self._take(")"):
            raise self._refused(said("bound-open"))
        self._deep -= 1
        return found

    def _measured(self, name: str) -> Fraction:
        taken = self._body.get(name, ())
        if len(taken) > 1:
            first, second = taken[:2]
            reason = said("bound-two-bodies", name=name, first=first, second=second)
            raise self._refused(reason, said("give-length"))
        if taken:
            return Fraction(str(taken[0]))
        if not self._body:
            raise self._refused(said("bound-no-body"), said("give-length"))
        parts = name.split("-")
        begins = any("-".join(parts[:k]) in self._body for k in range(1, len(parts)))
        known = said("bound-known", names=", ".join(self._body))
        helps = said("bound-minus") if begins else known
        raise self._refused(said("bound-unknown", name=shown(name)), helps)

    def _refused(self, reason: Said, remedy: Said = _WRITE) -> BadLength:
        return BadLength(self._text, reason, remedy)


def _number(text: str) -> Fraction:
    if text in _SIGNS:
        return Fraction(str(parse_length(f"{text}mm"))).limit_denominator(8)
    return Fraction(text.replace(",", "."))
