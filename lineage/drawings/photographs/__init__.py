"""From a photograph of card or paper, a frame of markers laid round it, to outlines in mm."""
