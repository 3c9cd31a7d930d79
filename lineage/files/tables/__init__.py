"""Tables of TOML: read safely, and brought from one content to another with all comments kept."""
