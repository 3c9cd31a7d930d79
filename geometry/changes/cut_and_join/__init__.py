"""Kinds that cut pieces apart and join them."""
