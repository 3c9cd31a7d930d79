"""Skirts: flare out of a dart, pleats, fullness, gores."""
