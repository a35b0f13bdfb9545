"""Bounds of a TOML text, checked before it is parsed.

A parser takes time as the square of a key's parts, and room for a table for each of them.
"""

import re

from workbench.store.errors import ProjectFileError

MOST_DEPTH = 16
"""Lists and tables inside one another, and parts of one key; a project has four at most."""
MOST_PARTS = 100_000
"""Parts of all dotted keys and headings together."""
MOST_DIGITS = 1_000

# Possessive, and quotes need not be closed, so that no character is looked at twice.
_PART = r"(?:[A-Za-z0-9_-]++|\"(?:[^\"\\\n]++|\\.)*+\"?+|'[^'\n]*+'?+)"
_TOKEN = re.compile(
    r"#[^\n]*+"
    r"|\"\"\"(?:[^\"\\]++|\\.|\"(?!\"\"))*+(?:\"{3,5})?+"
    r"|'''(?:[^']++|'(?!''))*+(?:'{3,5})?+"
    rf"|(?P<number>[0-9_]{{{MOST_DIGITS + 1},}}+)"
    r"|[0-9]++\.[0-9]++"
    rf"|(?P<key>{_PART}(?:[ \t]*+\.[ \t]*+{_PART})++)"
    rf"|{_PART}"
    r"|(?P<open>[\[{])|(?P<close>[\]}])",
    re.DOTALL,
)
_EACH_PART = re.compile(_PART, re.DOTALL)


def check_bounds(text: str, name: str) -> None:
    """Refuse a text that a parser would take long over; takes no longer than in proportion to it.

    Text that is no TOML is left to the parser. Errors call the text `name`.

    Raises:
        ProjectFileError: for what is nested too deeply, for keys of too many parts, and for a
            number of too many digits.
    """
    depth = parts = 0
    for token in _TOKEN.finditer(text):
        wrong = None
        match token.lastgroup:
            case "open":
                depth += 1
                if depth > MOST_DEPTH:
                    wrong = "its lists are nested too deeply", "a list of lists is never needed"
            case "close":
                depth = max(0, depth - 1)
            case "key":
                found = len(_EACH_PART.findall(token[0]))
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
