"""The nouns of the craft: frozen, validated, no I/O."""
