"""The form of the publisher's own on the guide: a line at the foot, a picture of the card."""

from textual.app import ComposeResult

from workbench.app.widgets.forms import Form, row, text
from workbench.craft.imprint import PICTURES, Imprint
from workbench.measure.length import Unit


class ImprintForm(Form[Imprint]):
    """Changes `imprint`."""

    TITLE = "Your own on the guide"
    ABOUT = (
        "The line stands at the foot of every page: a name, an address, the licence of the design."
        " The picture, of a finished card, lies beside the project's file or in a folder there and"
        " is named from there. Both are kept in the project's file. What a camera notes in a"
        " picture, such as a place, is left out of the guide."
    )

    def __init__(self, imprint: Imprint, unit: Unit) -> None:
        super().__init__(unit)
        self.imprint = imprint

    def fields(self) -> ComposeResult:
        hint = "name, address, licence of the design"
        yield row("Line", text("line", self.imprint.line or "", hint))
        ends = ", ".join(PICTURES)
        yield row("Picture", text("picture", self.imprint.picture or "", f"card.jpg ({ends})"))

    def read(self) -> Imprint:
        line, picture = self.typed("line") or None, self.typed("picture") or None
        return Imprint(
            self.reading("line", lambda: Imprint(line=line).line, None),
            self.reading("picture", lambda: Imprint(picture=picture).picture, None),
        )
