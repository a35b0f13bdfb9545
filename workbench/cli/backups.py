"""`trimtally backup` and `trimtally restore`: the whole workshop in one file."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

from workbench.cli.command import DONE, Command, check_over, over_option
from workbench.store.errors import WorkshopError, visible


def back_up(given: Namespace) -> int:
    """Copy the whole workshop to one file."""
    from workbench.store.backup import back_up as copy
    from workbench.store.database import Workshop
    from workbench.store.places import check_place

    file = Workshop.open().file
    check_place(given.file)
    if given.file.exists():
        check_over(given, given.file)
    copy(file, given.file)
    print(f"The workshop is kept in {visible(str(given.file))}")
    return DONE


def _exists(file: Path) -> bool:
    try:
        return file.exists()
    except OSError as error:
        raise WorkshopError(
            str(file), f"it cannot be used ({error.strerror})", "name another file"
        ) from error


def restore(given: Namespace) -> int:
    """Put a backup in the place of the workshop, or list those that were made by themselves."""
    from workbench.store.backup import backups
    from workbench.store.backup import restore as put_back
    from workbench.store.database import Workshop

    file = Workshop.open().file
    if given.file is None:
        found = backups(file)
        if not found:
            print("No backups were made by themselves yet; name the file of one of your own.")
        for backup in found:
            print(f"{backup.made.astimezone():%d %b %Y, %H:%M}  {visible(str(backup.path))}")
        return DONE
    _exists(given.file)
    aside = put_back(file, given.file)
    print(f"The workshop is that of {visible(str(given.file))}")
    if aside:
        print(f"What was there lies in {visible(str(aside))}")
    return DONE


def _backup_options(parser: ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", type=Path, help="where to keep the copy")
    over_option(parser)


def _restore_options(parser: ArgumentParser) -> None:
    parser.add_argument(
        "file",
        metavar="FILE",
        type=Path,
        nargs="?",
        help="a backup; without it those that were made by themselves are listed",
    )


BACKUP = Command(
    "backup",
    "copy the whole workshop to one file",
    "trimtally backup workshop-of-march.sqlite",
    back_up,
    _backup_options,
)
RESTORE = Command(
    "restore",
    "put a backup of the workshop back",
    "trimtally restore workshop-of-march.sqlite",
    restore,
    _restore_options,
    "[FILE]",
)
