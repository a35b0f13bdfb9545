"""The small pages that are only words, with what is to be said filled in."""

from importlib.resources import files


def page(name: str, **said: str) -> str:
    """The page called `name`, HTML, with each `{{key}}` in it replaced; `said` is HTML already."""
    text = files("workbench.app.tablet").joinpath("page", name).read_text("utf-8")
    for key, words in said.items():
        text = text.replace(f"{{{{{key}}}}}", words)
    return text
