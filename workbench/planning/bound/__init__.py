"""How few sheets are possible, by column generation."""
