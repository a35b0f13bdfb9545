"""Which card shows which prints."""
