"""Every state of the Easel, reached by moves at a clock that is set by hand, with names of every kind."""

import json
from collections.abc import Callable
from functools import cache
from typing import Final

from coach.plan.commission import Plan
from coach.session import moves
from coach.shapes.outlines import borders_of, rings_of
from coach.shapes.reference import Reference
from coach.shapes.shape import Picture
from tests.sessions import Easel
from tests.shapes.drawn_heads import drawn_head

ORDINARY: Final = {
    "commission": "The orchard keeper",
    "one": "Hall",
    "two": "School",
    "pile": "deep flesh",
    "feature": "eyes",
    "first": "socket shadow, dark",
    "second": "white of the eye",
    "third": "catchlight",
    "fourth": "iris",
    "fifth": "in the mirror",
}
LONGEST: Final = {
    key: f"{name} {'of the grandmother by the window of the mill ' * 6}"[:150].strip() for key, name in ORDINARY.items()
}
WIDE: Final = {
    "commission": "果樹園の番人",
    "one": "玄関",
    "two": "学校",
    "pile": "深い肌色",
    "feature": "目",
    "first": "眼窩の影",
    "second": "白目",
    "third": "光",
    "fourth": "虹彩",
    "fifth": "鏡の中",
}
MARKUP: Final = {key: f"[bold red][@click=app.quit]{name}[/]" for key, name in ORDINARY.items()}
NAMES: Final = {"ordinary": ORDINARY, "longest": LONGEST, "wide": WIDE, "markup": MARKUP}
"""Names of every kind, each for the whole of a plan."""


def plan_of(names: dict[str, str], **more: object) -> str:
    """Return a plan with these names, and with more keys."""
    canvases = [{"name": names["one"], "place": "left"}, {"name": names["two"], "place": "right"}]
    first = {"name": names["first"], "value": 3, "minutes": 14, "mixture": names["pile"]}
    first |= {"area": "12 cm2", "brush": "6 mm", "shapes": ["k9", "k10"]}
    passages = [
        first,
        {"name": names["second"], "value": 6, "minutes": 8, "beside": names["first"]},
        {"name": names["third"], "value": 9, "minutes": 3, "beside": names["first"]},
        {"name": names["fourth"], "value": 4, "minutes": 60, "shapes": ["k11"]},
        {"name": names["fifth"], "check": "mirror"},
    ]
    plan = {
        "commission": names["commission"],
        "canvases": canvases,
        "order": "there and back",
        "palette": ["burnt umber", "yellow ochre"],
        "mixtures": [{"name": names["pile"], "parts": {"burnt umber": 3, "yellow ochre": 2}}],
        "passes": [{"name": names["feature"], "passages": passages}],
        "limits": {"press": "0 s"},
        "photo": "head.png",
        "shapes": "head.shapes.svg",
    }
    return json.dumps(plan | more, ensure_ascii=False)


@cache
def _reference() -> Reference:
    head = drawn_head("frontal", 1)
    rings = rings_of(borders_of(head.truth))
    outlines = {f"k{number}": one for number, one in rings.items() if number >= 0}
    return Reference(Picture(linear=head.linear, left_px=0, top_px=0, scale=1), outlines, [head.head])


def drawn_reference(plan: Plan) -> Reference:  # noqa: ARG001  there is one photo
    """Return a drawn head, k9 and k10 its sockets, k11 the shadow of its nose, as the photo of a plan."""
    return _reference()


def _not_begun(text: str) -> Easel:
    return Easel(text)


def _working(text: str, minutes: float = 12 + 2 / 3) -> Easel:
    """Return an easel on the second turn, so many minutes into it; the first was noted."""
    easel = Easel(text)
    easel.session.make(moves.go_on)
    easel.pass_time(13 + 1 / 3)
    easel.session.make(moves.noting("cooler than it looks"))
    easel.session.make(moves.go_on)
    easel.pass_time(minutes)
    return easel


def _over(text: str) -> Easel:
    return _working(text, 28 + 1 / 3)


def _rest_due(text: str) -> Easel:
    easel = _working(text, 20)
    easel.session.make(moves.go_on)
    easel.pass_time(18 + 1 / 6)
    return easel


def _resting(text: str, minutes: float = 2.8) -> Easel:
    easel = _rest_due(text)
    easel.session.make(moves.rest)
    easel.pass_time(minutes)
    return easel


def _rest_over(text: str) -> Easel:
    return _resting(text, 10 + 2 / 3)


def _paused(text: str) -> Easel:
    easel = _working(text)
    easel.session.make(moves.pause)
    easel.pass_time(1)
    return easel


def _away(text: str) -> Easel:
    easel = _working(text)
    easel.clock.go(minutes=12)
    easel.session.tick()
    return easel


def _session_over(text: str) -> Easel:
    easel = _rest_due(text)
    easel.session.make(moves.end_session)
    easel.pass_time(1)
    return easel


def _finished(text: str) -> Easel:
    easel = _working(text)
    while easel.session.situation().turn is not None:
        easel.session.make(moves.go_on)
        easel.pass_time(3)
    return easel


def _waiting(text: str) -> Easel:
    return _finished(
        json.dumps(json.loads(text) | {"away": f"{json.loads(text)['canvases'][1]['name']} until 2027-01-20"})
    )


def _looking(text: str) -> Easel:
    easel = _working(text)
    while not easel.session.situation().passages[0].check:
        easel.session.make(moves.go_on)
        easel.pass_time(1)
    return easel


STATES: Final[dict[str, Callable[[str], Easel]]] = {
    "not begun": _not_begun,
    "working": _working,
    "looking": _looking,
    "over the planned time": _over,
    "rest due": _rest_due,
    "resting": _resting,
    "rest over": _rest_over,
    "paused": _paused,
    "was away": _away,
    "session over": _session_over,
    "waiting for a canvas": _waiting,
    "finished": _finished,
}
"""How each state comes about with a plan's text."""
