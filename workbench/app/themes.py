"""Our own looks, quiet so that the papers are the colourful things on the screen."""

from textual.theme import Theme

DARK = Theme(
    name="lamplight",
    primary="#8fa9b5",
    secondary="#6f7f88",
    accent="#d9b36c",
    warning="#d9b36c",
    error="#e07a6a",
    success="#9dbf8a",
    foreground="#e4e1da",
    background="#191b1d",
    surface="#202326",
    panel="#2a2e32",
    dark=True,
    variables={"footer-key-foreground": "#d9b36c", "footer-background": "#2a2e32"},
)
LIGHT = Theme(
    name="daylight",
    primary="#3f6272",
    secondary="#6d7b82",
    accent="#7d5312",
    warning="#7d5312",
    error="#a3362a",
    success="#3f6b34",
    foreground="#23282b",
    background="#f5f3ee",
    surface="#ebe8e1",
    panel="#dfdbd2",
    dark=False,
    variables={"footer-key-foreground": "#7d5312", "footer-background": "#dfdbd2"},
)
