"""Look over a wardrobe and mend it: deletes nothing, moves aside, says what is lost."""
