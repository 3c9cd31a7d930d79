"""Knits: blocks without darts, and with less girth than the body."""
