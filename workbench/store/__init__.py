"""Project files (TOML) and the workshop (SQLite) on disk."""
