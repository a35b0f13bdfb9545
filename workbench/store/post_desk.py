"""The maker's own rules and envelopes: files in the folder "post" of the workshop."""

from pathlib import Path

from workbench.craft.envelope import Envelope
from workbench.craft.errors import CraftError
from workbench.post.card import Desk
from workbench.post.rule_files import (
    ENVELOPES,
    SUFFIX,
    built_in_envelopes,
    built_in_posts,
    built_in_text,
    read_envelopes,
    read_post,
)
from workbench.post.rules import Post
from workbench.store.database import Workshop
from workbench.store.errors import WorkshopError, reason, visible
from workbench.store.ordinary import OddFileError, read_ordinary
from workbench.store.preferences import Preferences
from workbench.store.toml_bounds import check_bounds

FOLDER = "post"
MOST_MB = 1


def desk_of(workshop: Workshop, preferences: Preferences) -> Desk:
    """The posts and envelopes there are, the maker's own in place of those of the same name.

    A file "uk.toml" in the folder amends the rules of that post, one of a new name adds a post,
    and "envelopes.toml" adds envelopes.

    Raises:
        WorkshopError: when a file there cannot be read or holds something wrong.
    """
    posts, envelopes = dict(built_in_posts()), {each.name: each for each in built_in_envelopes()}
    for path in _files(workshop.folder / FOLDER):
        read = _read(path)
        if isinstance(read, Post):
            posts[read.key] = read
        else:
            envelopes.update((each.name, each) for each in read)
    return Desk(posts, tuple(envelopes.values()), preferences.post, preferences.clearance)


def copy_rules(workshop: Workshop, key: str) -> Path:
    """Put a copy of a built-in post's rules in the workshop, to be amended there.

    Args:
        workshop: whose folder it goes into.
        key: the post, "uk"; or "envelopes" for the tables of envelopes.

    Returns:
        Where it is. A file that is there already is left as it is.

    Raises:
        WorkshopError: when it cannot be written.
    """
    path = workshop.folder / FOLDER / f"{key}{SUFFIX}"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(built_in_text(key))
    except FileExistsError:
        return path
    except OSError as error:
        raise WorkshopError(
            visible(str(path)),
            f"it cannot be written ({error.strerror})",
            "make the folder writable, or set TRIMTALLY_HOME to another",
        ) from error
    return path


def _files(folder: Path) -> list[Path]:
    try:
        return sorted(folder.glob(f"*{SUFFIX}"))
    except OSError:
        return []


def _read(path: Path) -> Post | tuple[Envelope, ...]:
    where = visible(str(path))
    try:
        text = read_ordinary(path, MOST_MB).decode("utf-8-sig")
    except OddFileError as error:
        mend = "put a file of rules there, or move it away"
        raise WorkshopError(where, str(error), mend) from error
    except UnicodeDecodeError as error:
        wrong = f"byte {error.start + 1} is no text of UTF-8"
        raise WorkshopError(where, wrong, "save it as UTF-8 in a text editor") from error
    except OSError as error:
        raise WorkshopError(
            where, f"it cannot be read ({reason(error)})", "mend it, or move it away"
        ) from error
    try:
        check_bounds(text, where)
        if path.stem == ENVELOPES:
            return read_envelopes(text, path.name)
        return read_post(text, path.stem)
    except CraftError as error:
        place = error.place.removeprefix(path.name)
        raise WorkshopError(f"{where}{place}", error.wrong, error.right) from error
