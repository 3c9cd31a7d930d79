"""The armhole between shoulder point and underarm."""
