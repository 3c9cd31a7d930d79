"""The files the maker sees: which can be read, and which version is put back."""
