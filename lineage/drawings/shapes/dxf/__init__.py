"""Shapes of a DXF drawing: by the layers of ASTM D6673, or plain."""
