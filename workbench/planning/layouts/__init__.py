"""How one sheet is cut: trees of cuts, and where their parts lie."""
