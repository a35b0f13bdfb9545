"""A batch under way: its events and their replay."""
