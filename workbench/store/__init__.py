"""Project files and the workshop on disk."""
