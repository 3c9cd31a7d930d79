"""Draw what lies on one piece: its lines, its marks, its pleats."""
