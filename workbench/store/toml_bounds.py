"""Bounds of a TOML text, checked before it is parsed.

A parser takes time as the square of a key's parts, and room for a table for each of them.
"""

from workbench.store.errors import ProjectFileError
from workbench.store.toml_tokens import EACH_PART, TOKEN

MOST_DEPTH = 16
"""Lists and tables inside one another, and parts of one key; a project has four at most."""
MOST_PARTS = 100_000
"""Parts of all dotted keys and headings together."""


def check_bounds(text: str, name: str) -> None:
    """Refuse a text that a parser would take long over; takes no longer than in proportion to it.

    Text that is no TOML is left to the parser. Errors call the text `name`.

    Raises:
        ProjectFileError: for what is nested too deeply, for keys of too many parts, and for a
            number of too many digits.
    """
    depth = parts = 0
    for token in TOKEN.finditer(text):
        wrong = None
        match token.lastgroup:
            case "open":
                depth += 1
                if depth > MOST_DEPTH:
                    wrong = "its lists are nested too deeply", "a list of lists is never needed"
            case "close":
                depth = max(0, depth - 1)
            case "key":
                found = len(EACH_PART.findall(token[0]))
                parts += found
                if found > MOST_DEPTH:
                    wrong = f"a key has {found} parts", "a key has one part, a heading two at most"
                elif parts > MOST_PARTS:
                    wrong = f"its keys have over {MOST_PARTS} parts", "leave some of them out"
            case "number":
                wrong = "it holds a number that cannot be", "write numbers as in 9 or 5.25"
        if wrong:
            line = text.count("\n", 0, token.start()) + 1
            raise ProjectFileError(f"{name}: line {line}", *wrong)
