"""What only a live page has: changes that are tried before they are made."""
