"""Signs that no typeface of the printed pages has, as of Chinese or of faces."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from functools import cache
from itertools import islice

from workbench.drawing.lettering import FAMILY, font_folder, literal
from workbench.measure.counting import counted
from workbench.publish.recipe import Recipe

_PAGE = f"""#set document(title: "sign")
#set text(font: "{FAMILY}")
#sys.inputs.sign""".encode()
_MOST_SHOWN = 6
TYPESET = (".pdf", ".png")
"""How the names of files end that hold no sign but those of the typefaces."""


def unprintable(recipe: Recipe) -> tuple[str, ...]:
    """The signs that the pages of `recipe` show as empty boxes, in their order; the first few."""
    said = dict.fromkeys("".join(map(literal, _texts(asdict(recipe)))))
    odd = [sign for sign in said if not sign.isascii()]
    if _printable("".join(odd)):
        return ()
    return tuple(islice((sign for sign in odd if not _printable(sign)), _MOST_SHOWN + 1))


def unprintable_words(signs: Sequence[str]) -> str:
    """That they cannot be printed, and what shows them; "" for none."""
    if not signs:
        return ""
    many = len(signs) > _MOST_SHOWN
    count = "Many signs" if many else counted(len(signs), "sign")
    shown = " ".join(signs[:_MOST_SHOWN]) + (" …" if many else "")
    return (
        f"{count} cannot be printed: {shown} – empty boxes in pdf and png;"
        " html, txt and md hold all that is written."
    )


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for each in value.values():
            yield from _texts(each)
    elif isinstance(value, list | tuple):
        for each in value:
            yield from _texts(each)


@cache
def _printable(signs: str) -> bool:
    """Whether all are there: by PDF/UA-1 (ISO 14289-1), which forbids what has no glyph."""
    import typst

    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(font_folder())])
    try:
        typst.compile(
            _PAGE,
            font_paths=fonts,
            sys_inputs={"sign": signs},
            format="pdf",
            pdf_standards=["ua-1"],
        )
    except typst.TypstError:
        return False
    return True
