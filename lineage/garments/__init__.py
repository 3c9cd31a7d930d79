"""Garments: cloth cut from one exact version of a pattern, and what was seen when it was worn."""
