"""The tokens of a TOML text, told in one pass, and where its statements end."""

import re
from collections.abc import Iterator

MOST_DIGITS = 1_000

# Possessive, and quotes need not be closed, so that no character is looked at twice.
_PART = r"(?:[A-Za-z0-9_-]++|\"(?:[^\"\\\n]++|\\.)*+\"?+|'[^'\n]*+'?+)"
TOKEN = re.compile(
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
EACH_PART = re.compile(_PART, re.DOTALL)
_OR_LINE = re.compile(rf"{TOKEN.pattern}|(?P<line>\n)", re.DOTALL)


def statements(text: str) -> Iterator[str]:
    """The lines of `text`, each with its end, and joined with those that its value runs on to."""
    start = depth = 0
    for token in _OR_LINE.finditer(text):
        match token.lastgroup:
            case "open":
                depth += 1
            case "close":
                depth = max(0, depth - 1)
            case "line" if not depth:
                yield text[start : token.end()]
                start = token.end()
    if start < len(text):
        yield text[start:]


def notes(text: str) -> Iterator[re.Match[str]]:
    """The notes in `text`, each from its "#" to the end of its line."""
    return (token for token in TOKEN.finditer(text) if token[0].startswith("#"))
