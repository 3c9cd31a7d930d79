"""Trousers: rise, fork and leg."""
