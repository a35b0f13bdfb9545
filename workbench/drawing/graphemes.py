"""Characters that terminals do not agree on the width of, drawn so that they all do."""

import re

# Variation selector 16 and the zero-width joiner (The Unicode Standard, 23.4 and 23.2), and the
# modifiers of emoji (UTS #51): one terminal draws what they make in two cells, another in four.
_DOUBTFUL = re.compile("[\ufe0f\u200d\U0001f3fb-\U0001f3ff]")


def steady(text: str) -> str:
    """`text` as wide as it is reckoned, whichever terminal draws it.

    A cluster of several characters of doubtful width gives way to its first, with blanks behind it
    where that is narrower.
    """
    if text.isascii() or not _DOUBTFUL.search(text):
        return text
    from rich.cells import cell_len, get_character_cell_size, set_cell_size, split_graphemes

    drawn = []
    for start, end, width in split_graphemes(text)[0]:
        cluster = text[start:end]
        if _DOUBTFUL.search(cluster):
            first = "" if _DOUBTFUL.match(cluster) else cluster[0]
            taken = get_character_cell_size(first) if first else 0
            drawn.append(first + " " * (width - taken))
        else:
            drawn.append(cluster)
    # What begins in the middle of a cluster, as behind a cursor, is reckoned in another way.
    return set_cell_size("".join(drawn), cell_len(text))
