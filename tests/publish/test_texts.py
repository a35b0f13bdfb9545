"""The guide as text, Markdown, web page, cues and drawings; and names that try to be more."""

import io
import json
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from xml.etree.ElementTree import fromstring

import pytest
from PIL import Image
from pypdf import PdfReader
from selenium.webdriver import Chrome

from tests.app.browser import Browser
from tests.effort import SOON
from tests.publish.guides import NAMES, index_of, recipe_of, squeezed, text_of
from workbench.craft.imprint import Imprint
from workbench.craft.own_step import Hole, OwnStep
from workbench.craft.paper import Size
from workbench.craft.trimmer import Trimmer
from workbench.drawing.two_units import TwoUnits
from workbench.making.batch import begun, tick
from workbench.making.plan_index import PlanIndex
from workbench.measure.length import Length
from workbench.planning import Watch, make_plan
from workbench.publish.cues import cue_sheet, subtitles
from workbench.publish.output import OutputError, Publication, write
from workbench.publish.pages import pdf
from workbench.publish.text import markdown, plain_text
from workbench.publish.wall import cards_png, cards_svg
from workbench.publish.web_page import web_page
from workbench.publish.writer import _how, make_recipe
from workbench.store.places import PlaceError

PHONE = 360  # CSS pixels across: common practice, no source
HOSTILE = (
    '"quoted" \\backslash\\ ${x}',
    "#set page(fill: red) #panic()",
    "[br] *stars* _lines_ $maths$ `code` @label <label> // note",
    "<script>alert(1)</script> & <b>bold</b> --> ]]>",
    "| pipe | 1. --- # heading",
    "\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627",  # Hebrew and Arabic
    "\U0001f98a fox \u2702\ufe0f \u6f22\u5b57",
    "x" * 58,
)
WRITTEN = {
    "guide": (".pdf", ".png", ".svg", ".txt", ".md", ".html"),
    "cards": (".png", ".svg"),
    "cues": (".txt",),
}
LONG = ("x" * 500, "many words " * 45, "<script>" * 62)


@pytest.mark.parametrize("form", [plain_text, markdown, web_page])
@pytest.mark.parametrize("name", NAMES)
def test_text_holds_every_mark_and_size_in_both_units(name: str, form: object) -> None:
    assert callable(form)
    index = index_of(name)
    text = squeezed(form(recipe_of(name)).replace("\\", ""))
    units = TwoUnits(index.project.units)
    for step in index.plan.cuts:
        assert squeezed(units.both(step.mark)) in text
    for piece in index.project.pieces:
        assert squeezed(units.lead_size(piece.size)) in text
        # A column that breaks within a size parts it from what stands beside.
        assert squeezed(units.other_size(piece.size)) in text or form is plain_text


def hostile(name: str) -> PlanIndex:
    """A small batch with that name for everything that has one, and its plan."""
    index = index_of("one_card_from_scraps")
    project = index.project
    papers = {paper.name: f"{name} {number}" for number, paper in enumerate(project.papers)}
    pieces = {piece.name: f"{number} {name}" for number, piece in enumerate(project.pieces)}
    renamed = replace(
        project,
        title=name,
        imprint=Imprint(name),
        card=replace(project.card, paper=papers[project.card.paper]),
        papers=tuple(replace(paper, name=papers[paper.name]) for paper in project.papers),
        offcuts=tuple(replace(one, paper=papers[one.paper]) for one in project.offcuts),
        pieces=tuple(
            replace(
                piece,
                name=pieces[piece.name],
                papers=tuple(papers[paper] for paper in piece.papers),
                on=pieces.get(piece.on, piece.on),
            )
            for piece in project.pieces
        ),
    )
    return PlanIndex(renamed, make_plan(renamed, Trimmer(), Watch(limits=SOON)))


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_is_shown_and_does_nothing(name: str, tmp_path: Path) -> None:
    index = hostile(name)
    recipe = make_recipe(index)
    words = text_of(PdfReader(io.BytesIO(pdf(recipe, "A4"))))
    if name.isascii():
        assert squeezed(name) in words
    assert "panicked" not in words
    assert squeezed(name) in squeezed(plain_text(recipe).replace("- ", "- "))
    assert "<script>" not in web_page(recipe)
    assert re.search(r"(?<!\\)<script>", markdown(recipe)) is None
    for sheet in recipe.sheets:
        fromstring(sheet.figure.svg)
    for what, endings in WRITTEN.items():
        for ending in endings:
            for file in write(Publication(index, recipe, "A4"), what, tmp_path / f"{what}{ending}"):
                assert file.stat().st_size > 0


def test_what_a_guide_replaces_keeps_its_mode_and_a_link_stays_one(tmp_path: Path) -> None:
    index, recipe = index_of("one_card_from_scraps"), recipe_of("one_card_from_scraps")
    file, link = tmp_path / "kept" / "guide.txt", tmp_path / "guide.txt"
    file.parent.mkdir()
    file.write_text("before")
    file.chmod(0o600)
    link.symlink_to(file)
    write(Publication(index, recipe, "A4"), "guide", link)
    assert link.is_symlink()
    assert file.read_text(encoding="utf-8") == plain_text(recipe)
    assert file.stat().st_mode & 0o777 == 0o600
    assert list(file.parent.iterdir()) == [file]


@pytest.mark.parametrize("words", LONG)
def test_what_is_far_too_long_stays_on_the_page(words: str) -> None:
    recipe = recipe_of("one_card_from_scraps")
    recipe = replace(
        recipe,
        title=words,
        foot=words,
        papers=tuple(replace(row, name=words, note=words) for row in recipe.papers),
        layers=tuple(replace(row, name=words, how=words) for row in recipe.layers),
    )
    reader = PdfReader(io.BytesIO(pdf(recipe, "Letter")))
    assert text_of(reader).count(squeezed(words)) >= len(recipe.papers)
    for page in reader.pages:
        seen: list[float] = []
        page.extract_text(
            visitor_text=lambda text, _, place, *__, seen=seen: (
                seen.append(place[4]) if text.strip() else None
            )
        )
        assert max(seen) < float(page.mediabox.width)
    assert words.strip() in plain_text(recipe).replace("\n", "") or " " in words


def test_controls_and_turned_writing_show_a_sign_instead() -> None:
    recipe = replace(recipe_of("one_card_from_scraps"), foot="a\x1b[31mb\u202ec\x00d")
    for form in (plain_text, markdown, web_page):
        text = form(recipe)
        assert not any(sign in text for sign in "\x1b\x00\u202e")
        assert "\N{REPLACEMENT CHARACTER}" in text
    assert pdf(recipe, "A4").startswith(b"%PDF")


@pytest.mark.parametrize("name", ["regatta_thanks", "choir_invitations"])
def test_the_web_page_fits_a_phone_and_runs_nothing(
    name: str, tmp_path: Path, chromium: Chrome
) -> None:
    page = tmp_path / "guide.html"
    page.write_text(web_page(recipe_of(name)), encoding="utf-8")
    assert "<script" not in page.read_text(encoding="utf-8")
    with Browser(chromium, page.as_uri(), width=PHONE, height=740) as browser:
        widths = browser.driver.execute_script(
            "return [document.documentElement.scrollWidth, window.innerWidth]"
        )
        assert widths[0] <= widths[1] == PHONE
        assert not browser.complaints


def test_text_speaks_of_no_drawing() -> None:
    recipe = recipe_of("orchard_a6")
    for text in (plain_text(recipe), markdown(recipe)):
        assert "Drawn" not in text and "to scale" not in text
        assert "The front of the card, back to front: A card base, " in " ".join(text.split())
    assert f"Drawn {recipe.sheets[0].figure.scale}." in web_page(recipe)


def test_no_line_of_the_web_page_breaks_within_a_measure() -> None:
    page = web_page(recipe_of("regatta_thanks")).replace("\N{NO-BREAK SPACE}", "~")
    assert "4~3/4 × 6~3/4~in (120.6 × 171.4~mm)" in page


@pytest.mark.parametrize("name", NAMES)
def test_cues_call_out_every_mark(name: str) -> None:
    index, cues = index_of(name), cue_sheet(recipe_of(name))
    assert cues.count("Set the guide to") == len(recipe_of(name).settings)
    many = index.plan.different > 1
    shown = {face for card in index.plan.combinations for face in card.pieces.values()}
    looks = recipe_of(name).looks
    assert not many or all(f"{look.named}: " in cues for look in looks)
    mixed = {face for look in looks for _, face in look.papers}
    assert not many or all(face in cues for face in shown & mixed)


def test_subtitles_follow_the_record_without_the_pauses() -> None:
    """WebVTT (W3C): cues in order, hh:mm:ss.ttt, each ending after it begins."""
    index = index_of("one_card_from_scraps")
    state, events = begun(index.plan), []
    for number in range(4):
        away = timedelta(hours=5) if number == 2 else timedelta()
        event = tick(
            state, datetime(2026, 5, 1, 9, tzinfo=UTC) + number * timedelta(seconds=30) + away
        )
        events.append(event)
        state = replace(state, done=state.done + 1)
    text = subtitles(index, events)
    assert text.startswith("WEBVTT\n\n")
    times = re.findall(r"(\d\d:\d\d:\d\d\.\d\d\d) --> (\d\d:\d\d:\d\d\.\d\d\d)", text)
    assert times == [("00:00:00.000", "00:00:30.000")]


def test_an_ending_that_says_nothing_is_refused_with_those_that_do(tmp_path: Path) -> None:
    source = Publication(index_of("one_card_from_scraps"), recipe_of("one_card_from_scraps"), "A4")
    with pytest.raises(OutputError, match=r"\.pdf.*\.html"):
        write(source, "guide", tmp_path / "guide.docx")
    with pytest.raises(PlaceError, match="no such folder"):
        write(source, "guide", tmp_path / "missing" / "guide.txt")


@pytest.mark.parametrize("name", NAMES)
def test_drawings_are_to_scale_and_nothing_on_them_meets(name: str) -> None:
    for sheets, row in zip(index_of(name).layouts, recipe_of(name).sheets, strict=True):
        root = fromstring(row.figure.svg)
        scale = eval_fraction(root.attrib["data-scale"])
        space = {"svg": "http://www.w3.org/2000/svg"}
        drawn = [
            (float(rect.attrib["width"]) / scale, float(rect.attrib["height"]) / scale)
            for rect in root.findall("svg:rect[@data-piece]", space)
        ]
        parts = [part for part in sheets[0].parts if part.role == "piece"]
        wanted = [(float(part.width.mm), float(part.height.mm)) for part in parts]
        # Within 0.1 mm of the page.
        for side, true in zip(drawn, wanted, strict=True):
            assert side == pytest.approx(true, abs=0.1 / scale)
        boxes = [
            tuple(map(float, group.attrib[key].split()))
            for key in ("data-words", "data-badge")
            for group in root.findall(f".//svg:g[@{key}]", space)
        ]
        for place, one in enumerate(boxes):
            assert not any(meet(one, other) for other in boxes[:place]), (row.name, one)
        for rect in root.findall("svg:rect[@stroke-dasharray]", space):
            left, top, wide, high = (float(rect.attrib[at]) for at in ("x", "y", "width", "height"))
            frame = (left, top, left + wide, top + high)
            for group in root.findall(".//svg:g[@data-words]", space):
                one = tuple(map(float, group.attrib["data-words"].split()))
                assert holds(frame, one) or not meet(frame, one), (row.name, one)


def holds(frame: tuple[float, ...], one: tuple[float, ...]) -> bool:
    return all(one[at] >= frame[at] - 0.01 for at in (0, 1)) and all(
        one[at] <= frame[at] + 0.01 for at in (2, 3)
    )


def meet(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return (
        one[0] < other[2] - 1e-3
        and other[0] < one[2] - 1e-3
        and one[1] < other[3] - 1e-3
        and other[1] < one[3] - 1e-3
    )


def eval_fraction(text: str) -> float:
    top, _, bottom = text.partition("/")
    return int(top) / int(bottom or 1)


def test_the_data_of_a_recipe_is_plain() -> None:
    from dataclasses import asdict

    assert json.loads(json.dumps(asdict(recipe_of("regatta_thanks"))))["units"] == "in"


def test_steps_of_the_makers_own_are_told_with_their_holes_in_both_units() -> None:
    index = index_of("one_card_from_scraps")
    hole = Hole(inches("1/2"), inches("3/4"), Size(inches("1/4"), inches("1/4")))
    step = OwnStep(
        "punch the corner", "label", minutes=Fraction(2), caution="mind the pin", holes=(hole,)
    )
    project = replace(index.project, steps=(step,))
    recipe = make_recipe(PlanIndex(project, make_plan(project, Trimmer(), Watch(limits=SOON))))
    (task,) = (task for task in recipe.tasks if task.heading == "Punch the corner")
    assert task.minutes == "2 minutes"
    assert task.lines == (
        "On E label, after cutting: once.",
        "Hole 1/4 in (6.4 mm) across: its middle 1/2 in (12.7 mm) from the left, "
        "3/4 in (19 mm) from the bottom.",
        "Take care: mind the pin",
    )


def inches(number: str) -> Length:
    return Length.of(number, "in")


def test_the_edge_of_every_small_card_is_drawn_on_all_four_sides() -> None:
    index = index_of("one_card_from_scraps")
    (place,) = fromstring(cards_svg(index)).iter("{http://www.w3.org/2000/svg}use")
    left, top, width, height = (float(place.attrib[key]) for key in ("x", "y", "width", "height"))
    whole = float(fromstring(cards_svg(index)).attrib["viewBox"].split()[2])
    picture = Image.open(io.BytesIO(cards_png(index))).convert("L")
    fine = picture.width / whole
    inside = 0.1 + max(width, height) / 300
    for x, y in (
        (left + inside, top + height / 2.1),
        (left + width - inside, top + height / 2.1),
        (left + width / 2.1, top + inside),
        (left + width / 2.1, top + height - inside),
    ):
        column, row = round(x * fine), round(y * fine)
        (dark,) = picture.crop((column, row, column + 1, row + 1)).tobytes()
        assert dark < 90


def test_one_card_alone_is_scored_as_one() -> None:
    assert "Score the base at" in plain_text(recipe_of("one_card_from_scraps"))
    assert "Score all 12 bases at" in plain_text(recipe_of("orchard_a6"))


@pytest.mark.parametrize("name", NAMES)
def test_no_size_is_finer_than_a_rule_shows(name: str) -> None:
    assert "/64" not in plain_text(recipe_of(name))


def test_a_mark_between_two_lines_is_told_as_such() -> None:
    recipe = make_recipe(index_of("regatta_thanks"), Trimmer(), "mm")
    wheres = {setting.other: setting.where for setting in recipe.settings}
    # 4 3/4 in are 120.65 mm, by the definition of the inch as 25.4 mm.
    assert wheres["4 3/4 in"] == "between 120 and 121 mm, nearer 121"


@pytest.mark.parametrize(
    ("count", "said"), [(1, ""), (2, "; the other beside it"), (3, "; the others in a row")]
)
def test_where_the_others_lie_is_told_of_one_or_of_several(count: int, said: str) -> None:
    piece = replace(
        index_of("one_card_from_scraps").project.pieces[-1], per_card=count, spread="in a row"
    )
    lies = {piece.name: "on the panel"}
    assert _how(piece, lies, lies).startswith(f"on the panel{said}")
