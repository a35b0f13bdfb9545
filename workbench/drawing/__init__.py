"""Pictures of papers, sheets and cards in characters, free of any screen library."""
