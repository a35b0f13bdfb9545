"""Project files that cannot be used: what is wrong with each, and words its refusal must hold."""

from dataclasses import dataclass

GOOD = """\
title = "Lantern walk"
units = "in"

[card]
size = ["4 1/4", "5 1/2"]
fold = "top"
paper = "cream card"
count = 4

[[papers]]
name = "cream card"
kind = "cardstock"
size = ["8 1/2", 11]
sheets = 2

[[papers]]
name = "moth dot"
kind = "patterned"
size = [12, 12]
sheets = 1
print = "dot"
colours = ["#2f6f8f", "#f4efe4"]
run = "along"
weight = "70 lb text"
thickness = "0.15 mm"
strip = { edge = "left", width = "1/2" }

[[pieces]]
name = "panel"
size = [4, "5 1/4"]
from = ["moth dot"]
place = { x = "centre", y = "1/8" }
round = { corners = ["top right"], radius = "1/4" }
"""


@dataclass(frozen=True)
class BadFile:
    """A file's `content`, and what its one line must say besides the file's name."""

    kind: str
    content: bytes
    says: tuple[str, ...]


def _changed(kind: str, old: str, new: str, *says: str) -> BadFile:
    assert GOOD.count(old) == 1, f"{old!r} must stand in the good file once"
    return BadFile(kind, GOOD.replace(old, new).encode(), says)


def _with(kind: str, more: str, *says: str) -> BadFile:
    return BadFile(kind, f"{GOOD}\n{more}".encode(), says)


PANEL = 'pieces[1] "panel"'
BAD_FILES = (
    BadFile("empty", b"", ("empty", "title")),
    BadFile("blank", b" \n\n", ("empty",)),
    BadFile("a picture", b"\x89PNG\r\n\x1a\n\x00\xff", ("UTF-8",)),
    BadFile("wide characters", GOOD.encode("utf-16"), ("UTF-8",)),
    BadFile("wide characters, unmarked", GOOD.encode("utf-16-le"), ("byte 2", "UTF-8")),
    BadFile("another alphabet", 'title = "Fête"'.encode("latin-1"), ("byte 11", "UTF-8")),
    BadFile("huge", b"# " + b"x" * 1_000_001, ("1 MB",)),
    BadFile("a NUL", b'title = "a\x00b"', ("line 1, column 11",)),
    BadFile("deep nesting", b"\n\ntitle = " + b"[" * 20_000, ("line 3", "nested")),
    BadFile("an endless number", b"title = " + b"9" * 5_000, ("line 1", "number")),
    BadFile("no such day", b"title = 2023-02-30", ("line 1, column 9", "day")),
    BadFile("a sentence", b"Nine cards, please.\n", ("line 1",)),
    _changed("a fraction without quotes", '[4, "5 1/4"]', "[4, 5 1/4]", "line 30", '"5 1/4"'),
    _changed("words without quotes", '"top"\n', "top\n", "line 6", "quotes"),
    _changed("open quotes", '"Lantern walk"', '"Lantern walk', "line 1"),
    _changed("a key twice", "count = 4", "count = 4\ncount = 5", "line 9", "twice"),
    _changed("a table twice", '[[papers]]\nname = "moth', '[card]\nname = "moth', "twice"),
    _changed("an unknown key", "sheets = 2", "sheet = 2", '"cream card"', '"sheet"', '"sheets"'),
    _changed("a key in capitals", "count = 4", "Count = 4", "card", '"count"'),
    _changed("a key unlike any", "count = 4", "zzz = 4", '"zzz"', "size, fold, paper, count"),
    _changed("another spelling", "colours", "colors", 'papers[2] "moth dot"', '"colours"'),
    _changed("an unknown table", "[[pieces]]", "[[bits]]", '"bits"', "pieces"),
    _changed("a missing key", 'fold = "top"\n', "", "card, fold", "missing", 'fold = "top"'),
    _changed("a missing size", 'size = [4, "5 1/4"]\n', "", f"{PANEL}, size", "missing"),
    _changed("a missing name", 'name = "panel"\n', "", "pieces[1], name", "missing"),
    BadFile("no card", b'title = "x"\nunits = "mm"\n', ("card", "missing", "[card]")),
    _changed("an unknown unit", '"in"', '"inches"', "units", '"inches"', '"in"', '"mm"'),
    _changed("an unknown fold", '"top"\n', '"tops"\n', "card, fold", 'did you mean "top"'),
    _changed("an unknown kind", '"cardstock"', '"card"', "cream card", "kind", '"cardstock"'),
    _changed("an unknown run", '"along"', '"sideways"', "moth dot", "run", '"along"'),
    _changed("an unknown corner", '"top right"', '"top rihgt"', PANEL, "corners[1]", '"top right"'),
    _changed("an unknown place", '"centre"', '"center"', PANEL, "place, x", '"centre"'),
    _changed("a count in words", "count = 4", 'count = "four"', "card, count", "whole number"),
    _changed("half a card", "count = 4", "count = 4.5", "card, count", "whole number"),
    _changed("a yes for a count", "count = 4", "count = true", "card, count", "whole number"),
    _changed("no cards", "count = 4", "count = 0", "card, count", "from 1"),
    _changed("less than no sheets", "sheets = 1", "sheets = -1", "moth dot", "sheets", "from 0"),
    _changed("one side", '[4, "5 1/4"]', "[4]", f"{PANEL}, size", "2 values, not 1"),
    _changed("a size in one", '[4, "5 1/4"]', '"4 x 5 1/4"', f"{PANEL}, size", "a list"),
    _changed("three sides", "[12, 12]", "[12, 12, 12]", "moth dot", "size", "not 3"),
    _changed("a side that is none", '[4, "5 1/4"]', '[4, "tall"]', f"{PANEL}, size[2]", "tall"),
    _changed("a foreign unit", '[4, "5 1/4"]', '[4, "5 ells"]', f"{PANEL}, size[2]", "ells"),
    _changed("over nothing", '[4, "5 1/4"]', '[4, "5 1/0"]', f"{PANEL}, size[2]", "0"),
    _changed("a negative side", '[4, "5 1/4"]', "[4, -5]", f"{PANEL}, size[2]", "less than"),
    _changed("no side at all", '[4, "5 1/4"]', "[4, 0]", '"panel", size', "above 0"),
    _changed("not a number", "[12, 12]", "[12, nan]", "moth dot", "size[2]", "nan"),
    _changed("without end", "[12, 12]", "[inf, 12]", "moth dot", "size[1]", "inf"),
    _changed("a date for a side", "[12, 12]", "[12, 2024-02-03]", "moth dot", "size[2]", "date"),
    _changed("a date for a title", '"Lantern walk"', "2024-02-03", "title", "text in quotes"),
    _changed("a table for a name", '"moth dot"\nkind', "{ a = 1 }\nkind", "papers[2]", "a table"),
    _changed("text for a list", '["moth dot"]', '"moth dot"', f"{PANEL}, from", "a list"),
    _changed("a table for tables", "[[pieces]]", "[pieces]", "pieces", "[[pieces]]"),
    _changed("an unreadable weight", '"70 lb text"', '"70 lb"', "moth dot", "weight", "grade"),
    _changed("an unreadable thickness", '"0.15 mm"', '"thin"', "moth dot", "thickness"),
    _changed("an unknown edge", '"left"', '"lower"', "moth dot", "strip, edge", '"bottom"'),
    _changed("a strip of no width", ', width = "1/2"', "", "moth dot", "strip, width", "missing"),
    _changed("a strip along nothing", 'edge = "left", ', "", "moth dot", "strip, edge", "missing"),
    _changed("a strip in words", 'width = "1/2"', 'width = "thin"', "strip, width", "thin"),
    _changed("a strip too wide", 'width = "1/2"', "width = 12", "strip", "narrower"),
    _changed("a strip of nothing", 'width = "1/2"', "width = 0", "strip", "above 0"),
    _changed("a strip in one", '{ edge = "left", width = "1/2" }', '"1/2"', "strip", "a table"),
    _changed("a colour by name", '"#2f6f8f"', '"teal"', "moth dot", "colours", "#2f6f8f"),
    _changed("a paper of no name", '"moth dot"\nkind', '""\nkind', "papers", "blank"),
    _changed("a paper unheard of", '["moth dot"]', '["moth dots"]', '"moth dots"', '"moth dot"'),
    _changed("a base unheard of", 'paper = "cream card"', 'paper = "ivory"', "card, paper"),
    _changed("a name without end", '["moth dot"]', '["' + "x" * 5000 + '"]', '"xxxx', '"moth dot"'),
    _changed("a blank name", '"panel"', '" "', 'pieces[1] " ", name', "blank"),
    _changed("a piece of no name", '"panel"', '""', "pieces[1], name", "blank"),
    _changed("a name too long", '"panel"', f'"{"x" * 61}"', "pieces[1]", "xx…", "61 characters"),
    _changed(
        "a tab in a title", '"Lantern walk"', '"Lantern\\twalk"', "title: the title", "U+0009"
    ),
    _changed("a tab in a print", '"dot"', '"d\\tot"', '"moth dot", print', "the print", "U+0009"),
    _changed(
        "beyond 64 bits", "count = 4", "count = 99999999999999999999", "card, count", "beyond"
    ),
    _changed("beyond telling", "sheets = 1", f"sheets = 0x{'F' * 5000}", "papers[2]", "beyond"),
    _changed(
        "an endless number among others",
        "size = [12, 12]",
        f"size = [12, [{'9' * 5000}]]",
        "line 19",
        "number",
    ),
    _with(
        "an offcut of nothing",
        '[[offcuts]]\npaper = "moth dot"\nsize = [1, 0]',
        'offcuts[1] "moth dot", size',
        "above 0",
    ),
    _with(
        "a second offcut of no paper",
        '[[offcuts]]\npaper = "moth dot"\nsize = [1, 1]\n[[offcuts]]\npaper = ""\nsize = [1, 1]',
        "offcuts[2], paper",
        '"moth dot"',
    ),
    _with(
        "no offcut",
        '[[offcuts]]\npaper = "moth dot"\nsize = [1, 1]\ncount = 0',
        'offcuts[1] "moth dot", count',
        "from 1",
    ),
    _changed(
        "a back without a name", "sheets = 1\n", 'back = { name = "" }\n', "back, name", "blank"
    ),
    _changed("a paper twice", '"moth dot"\nkind', '"cream card"\nkind', "papers", "twice"),
    _changed("a name that is taken", '"panel"', '"card base"', "taken"),
    _changed("a hidden character", '"panel"', '"pan\\u200bel"', "pieces", "printed"),
    _changed(
        "too much said", '["top right"],', '["top right"], depth = 2,', PANEL, "round", '"depth"'
    ),
    _changed("glued to nothing", "round = {", 'on = "flap"\nround = {', '"panel", on', '"card"'),
    _changed("too round", 'radius = "1/4"', "radius = 3", '"panel", round', "give 2 in at most"),
    _changed("larger than its sheet", '[4, "5 1/4"]', "[4, 14]", '"panel", size', "larger"),
    _changed("a back of no name", "sheets = 1\n", 'back = { print = "dot" }\n', "back, name"),
    _changed(
        "a back named twice",
        "sheets = 1\n",
        'back = { name = "cream card" }\n',
        '"cream card"',
        "twice",
    ),
    _changed(
        "a back of a colour by name",
        "sheets = 1\n",
        'back = { name = "moth", colours = ["teal"] }\n',
        'back "moth"',
        "#2f6f8f",
    ),
    _changed("half a spare", 'from = ["moth dot"]', "spare = 0.5", PANEL, "spare", "whole"),
    _changed(
        "a spare too few", "round = {", "spare = -1\nround = {", '"panel", spare', "from 0 to"
    ),
    _changed(
        "a spare where it fits",
        "round = {",
        "spare = 1\nneeded = false\nround = {",
        '"panel", spare',
        "needed",
    ),
    _with("an unknown rule", "[mixing]\nnear = []", "mixing", '"near"', "apart, together"),
    _with("an unknown wish", '[mixing]\nwish = "alike"', "mixing, wish", "as a set"),
    _with("a repeat of one", '[mixing]\nrepeat = [["panel"]]', "repeat[1]", "2 values, not 1"),
    _with("an unknown use", '[mixing]\nuse = "some"', "mixing, use", "evenly"),
    _with(
        "a count of what is not mixed",
        '[mixing]\nuse = { "moth dot" = -1 }',
        "mixing, use",
        "moth dot",
    ),
    _with("a deal below none", "[mixing]\ndeal = -1", "mixing, deal", "from 0"),
    _with("a rule of one", '[mixing]\napart = [["moth dot"]]', "apart[1]", "2 values, not 1"),
    _with(
        "a rule of a paper unheard of",
        '[mixing]\napart = [["moth dot", "kite"]]',
        "mixing, apart",
        '"kite"',
        '"cream card"',
    ),
    _with(
        "a rule of one paper twice",
        '[mixing]\ntogether = [["moth dot", "moth dot"]]',
        "mixing, together",
        "two papers",
    ),
    _with(
        "a rule twice",
        '[mixing]\napart = [["moth dot", "cream card"], ["cream card", "moth dot"]]',
        "mixing, apart",
        "twice",
    ),
    _with("a card without number", "[[mixing.cards]]\nshows = {}", "cards[1], number", "missing"),
    _with("a card of nothing", "[[mixing.cards]]\nnumber = 1\nshows = {}", "card 1", "nothing"),
    _with(
        "a card beyond the last",
        '[[mixing.cards]]\nnumber = 5\nshows = { panel = "moth dot" }',
        "mixing, card 5",
        "from 1 to 4",
    ),
    _with(
        "a card fixed twice",
        '[[mixing.cards]]\nnumber = 1\nshows = { panel = "moth dot" }\n' * 2,
        "mixing, card 1",
        "twice",
    ),
    _with(
        "a card of a piece unheard of",
        '[[mixing.cards]]\nnumber = 1\nshows = { flap = "moth dot" }',
        "mixing, card 1",
        '"flap"',
        '"panel"',
    ),
    _with(
        "a card of a paper not mixed in",
        '[[mixing.cards]]\nnumber = 1\nshows = { panel = "cream card" }',
        "mixing, card 1",
        '"cream card"',
        '"moth dot"',
    ),
    _with(
        "a card that shows a number",
        "[[mixing.cards]]\nnumber = 1\nshows = { panel = 3 }",
        'mixing, cards[1], shows, "panel"',
        "text in quotes",
    ),
)
