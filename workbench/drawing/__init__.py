"""Pictures of papers, sheets and cards, in characters and as SVG, free of any screen library."""
