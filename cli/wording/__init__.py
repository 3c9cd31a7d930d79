"""The words for what is found: one place in which facts become sentences, in the maker's unit."""
