"""Things drawn on screens."""
