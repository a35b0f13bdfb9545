"""What a publisher puts on the printed guide: a line at the foot, and a picture of the card."""

from dataclasses import dataclass
from pathlib import PurePosixPath, PureWindowsPath

from workbench.craft.errors import CraftError, checked_name

LONGEST_LINE = 200
PICTURES = (".jpg", ".jpeg", ".png")


@dataclass(frozen=True, slots=True)
class Imprint:
    """The publisher's own on a guide.

    Attributes:
        line: the name, address and licence at the foot of every page; None for none.
        picture: the file of a picture of the finished card, beside the project's file or in a
            folder there, so that a stranger's project never reaches for anything else.

    Raises:
        CraftError: for a line that cannot be printed, or a picture anywhere else.
    """

    line: str | None = None
    picture: str | None = None

    def __post_init__(self) -> None:
        if self.line is not None:
            checked_name(self.line, "imprint, line", "line", LONGEST_LINE)
        if self.picture is not None:
            self._check_picture(self.picture)

    def _check_picture(self, name: str) -> None:
        for path in (PurePosixPath(name), PureWindowsPath(name)):
            if path.is_absolute() or path.drive or ".." in path.parts:
                raise CraftError(
                    "imprint, picture",
                    f'"{name}" does not lie beside the project',
                    "put the picture in the project's folder and give its name",
                )
        if PurePosixPath(name).suffix.casefold() not in PICTURES:
            raise CraftError(
                "imprint, picture",
                f'"{name}" is no picture that a guide can show',
                f"give one that ends in {', '.join(PICTURES)}",
            )


NO_IMPRINT = Imprint()
