"""Changes made in the text of a maker's file, whose notes, order and wording stay as they are.

A file is taken as headings with lines of `key = value` below, as the README shows it. One laid
out in another way, with headings that `schema` does not know, is not changed in place.
"""

import re
import tomllib
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from workbench.craft.project import Project
from workbench.store.dump import Block, project_blocks
from workbench.store.errors import ProjectFileError
from workbench.store.load import project_from_text
from workbench.store.schema import PROJECT
from workbench.store.toml_tokens import notes, statements

_HEADINGS = ("", *PROJECT.headings())


class _Statement(NamedTuple):
    """One line, or several where a value runs on. Without `key` it is a note or blank.

    `note` stands after the value, `within` are the notes between the lines of a value.
    """

    text: str
    key: str | None = None
    note: str = ""
    within: tuple[str, ...] = ()

    @property
    def is_note(self) -> bool:
        return self.text.lstrip().startswith("#")


@dataclass(slots=True)
class _Written:
    """A heading as the file has it, and what stands below it.

    Attributes:
        place: its number in the file, from 0.
        heading: "[card]", "[[papers]]" and so on, "" for the top of the file.
        head: its line, with the notes just above it.
        body: what stands below it.
    """

    place: int
    heading: str
    head: str
    body: list[_Statement] = field(default_factory=list)

    def changed(self, before: Block, after: Block) -> str:
        """Its text where what `before` says is now as `after` says."""
        lines, end = [self.head], 1
        for statement in self.body:
            key = statement.key or ""
            old, new = before.lines.get(key), after.lines.get(key)
            if old == new:
                lines.append(statement.text)
            elif new:
                lines += [f"{note}\n" for note in statement.within]
                lines.append(f"{new}{statement.note}\n")
            if key:
                end = len(lines)
        there = {statement.key for statement in self.body}
        lines[end:end] = [f"{line}\n" for key, line in after.lines.items() if key not in there]
        return "".join(lines)


class _Part(NamedTuple):
    """A heading's new text, and the place it had before; None for one that is new."""

    place: int | None
    text: str


def with_changes(text: str, before: Project, after: Project) -> str | None:
    """Change the text of a file so that it holds another project.

    Args:
        text: the text of the file.
        before: the project it holds.
        after: the project it shall hold.

    Returns:
        The new text: a line is new only where its meaning changes. None where the file is laid out
        in a way that cannot be changed in place.
    """
    written = _taken_apart(text.replace("\r\n", "\n"))
    if written is None:
        return None
    changed = _joined(_in_order(written, before, after))
    try:
        if project_from_text(changed, "") != after:
            return None
    except ProjectFileError:
        return None
    return changed.replace("\n", "\r\n") if "\r\n" in text else changed


def has_notes(text: str) -> bool:
    """Whether `text` holds a note: anything after a "#"."""
    return any(notes(text))


def _in_order(written: Sequence[_Written], before: Project, after: Project) -> Iterator[_Part]:
    """What is new of a kind comes after the last of its kind, or else at the end."""
    old, new = _by_heading(before), _by_heading(after)
    mine = {heading: [w for w in written if w.heading == heading] for heading in _HEADINGS}
    parts = {
        heading: list(_parts(heading, mine[heading], old[heading], new[heading]))
        for heading in _HEADINGS
    }
    for each in written:
        waiting = parts[each.heading]
        ready = waiting[:] if each is mine[each.heading][-1] else waiting[:1]
        yield from ready
        del waiting[: len(ready)]
    for heading in _HEADINGS:
        yield from parts[heading]


def _parts(
    heading: str, written: Sequence[_Written], old: Sequence[Block], new: Sequence[Block]
) -> Iterator[_Part]:
    nothing = Block(heading, "", {})
    if not heading.startswith("[[") and written:
        old, new = old or [nothing], new or [nothing]
    there = list(zip(written, old, strict=False))
    matches = _matched([block.name for _, block in there], [block.name for block in new])
    for number, block in enumerate(new):
        if number in matches:
            mine, before = there[matches[number]]
            yield _Part(mine.place, mine.changed(before, block))
        else:
            yield _Part(None, block.text)


def _matched(old: Sequence[str], new: Sequence[str]) -> Mapping[int, int]:
    """Which of `old` each of `new` is: by name, and as many others in their order."""
    left = list(range(len(old)))
    matches = {}
    for number, name in enumerate(new):
        same = next((place for place in left if old[place] == name), None)
        if same is not None:
            matches[number] = same
            left.remove(same)
    others = [number for number in range(len(new)) if number not in matches]
    if len(others) == len(left):
        matches.update(zip(others, left, strict=True))
    return matches


def _joined(parts: Iterator[_Part]) -> str:
    """A blank line goes between parts that did not stand beside one another before."""
    text, place = "", -1
    for part in parts:
        if part.place != place + 1 and not text.endswith("\n\n"):
            text += "\n"
        text += part.text
        place = -2 if part.place is None else part.place
    return text


def _by_heading(project: Project) -> Mapping[str, list[Block]]:
    found: dict[str, list[Block]] = defaultdict(list)
    for block in project_blocks(project):
        found[block.heading].append(block)
    return found


def _taken_apart(text: str) -> list[_Written] | None:
    """None where the file has headings of its own, or a key on several lines."""
    written = [_Written(0, "", "")]
    for statement in _statements(text):
        body = written[-1].body
        heading = re.match(r"(\[\[?)\s*([a-z_.]+)\s*(\]\]?)", statement.text.lstrip())
        if heading:
            name = "".join(heading.groups())
            above: list[str] = []
            while body and body[-1].is_note:
                above.insert(0, body.pop().text)
            written.append(_Written(len(written), name, "".join([*above, statement.text])))
            if name not in _HEADINGS:
                return None
        elif statement.key and any(statement.key == other.key for other in body):
            return None
        else:
            body.append(statement)
    return written


def _statements(text: str) -> Iterator[_Statement]:
    """The lines, each joined with those that its value runs on to."""
    for line in statements(text.rstrip("\n") + "\n"):
        try:
            said = tomllib.loads(line)
        except tomllib.TOMLDecodeError:
            said = {}
        key = None if line.lstrip().startswith("[") else next(iter(said), None)
        note, within = _notes_of(line) if said else ("", ())
        yield _Statement(line, key, note, within)


def _notes_of(line: str) -> tuple[str, tuple[str, ...]]:
    """The note behind a value, with the blanks before it, and those between the value's lines."""
    within, note = list(notes(line)), ""
    if within and within[-1].end() == len(line) - 1:
        value = line[: within.pop().start()].rstrip(" \t")
        note = line[len(value) : -1]
    return note, tuple(each[0] for each in within)
