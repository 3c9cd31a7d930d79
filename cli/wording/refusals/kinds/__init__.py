"""The words for what single kinds of change refuse, by the room they are in."""
