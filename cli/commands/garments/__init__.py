"""Cloth that is cut, what is seen on it, and what may mend it."""
