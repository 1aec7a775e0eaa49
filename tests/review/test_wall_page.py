"""The plan for the wall: every turn has a box, and no name is markup."""

from collections.abc import Iterable
from html.parser import HTMLParser

from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.review.order_table import order_report
from coach.review.wall_page import wall_page
from coach.session.work import work_of
from tests.sessions import TWO_CANVASES


class _Page(HTMLParser):
    """The elements and texts of a page; elements that are opened and not closed are kept as open."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.elements: list[str] = []
        self.texts: list[str] = []
        self.open: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: Iterable[tuple[str, str | None]]) -> None:  # noqa: ARG002
        self.elements.append(tag)
        if tag not in ("meta", "br"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def _page(plan: Plan) -> _Page:
    return _Page(wall_page(plan, order_report(work_of(plan, {}))))


def test_every_turn_has_a_box_that_names_its_canvas() -> None:
    plan = read_plan(TWO_CANVASES, "plan.yaml")
    boxes = [text for text in _page(plan).texts if text.startswith("☐ ")]

    assert boxes == [f"☐ {turn.canvas}" for turn in order_report(work_of(plan, {})).turns]


def test_every_passage_stands_on_the_page_in_the_order_of_the_work() -> None:
    plan = read_plan(TWO_CANVASES, "plan.yaml")
    texts = _page(plan).texts

    names = [passage.name for one in plan.passes for passage in one.passages]
    assert [text for text in texts if text in names] == names


def test_names_are_text_and_never_markup() -> None:
    hostile = "<script>alert(1)</script> & \x1b[31m"
    plan = read_plan(TWO_CANVASES, "plan.yaml")._replace(commission=hostile)
    page = _page(plan)

    assert "script" not in page.elements
    assert not page.open
    assert any("<script>alert(1)</script> & \N{REPLACEMENT CHARACTER}[31m" in text for text in page.texts)
