"""Gauss–Legendre quadrature on a curve and, beside it, on its two halves, to tell the error.

Sixteen nodes each; NIST Digital Library of Mathematical Functions 3.5(v) states the rule.
"""

import numpy as np

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_WHOLE = (_NODES + 1) / 2

PLACES = np.concatenate([_WHOLE, _WHOLE / 2, (_WHOLE + 1) / 2])
"""The nodes on [0, 1]: first the whole interval's, then those of its first and second half."""

RULES = np.zeros((48, 2))
"""Weights for values at PLACES: the first column for the whole, the second for the two halves."""

RULES[:16, 0] = _WEIGHTS / 2
RULES[16:, 1] = np.concatenate([_WEIGHTS, _WEIGHTS]) / 4
