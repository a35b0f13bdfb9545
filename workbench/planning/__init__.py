"""Pure computation: layouts, the order of work, combinations."""
