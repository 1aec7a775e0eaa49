"""The passes of a portrait as painters work: transfer, block-in, the features, edges and accents, checks between them.

Source: common practice, no source; the minutes of transfer, tone, checks and accents are ours.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from coach.composition.proposal.block_in import BlockIn, big_value_word
from coach.composition.proposal.parts import (
    LEAST_MIN,
    MOST_RUN_MIN,
    Meeting,
    Meetings,
    Part,
    Zone,
    meeting,
    rounded_cm2,
)
from coach.composition.proposal.runs import SEEN_CM, runs_of_parts
from coach.plan.commission import Address, Pass, Passage, runs_of
from coach.plan.value_range import ValueRange
from coach.shapes.words import told_apart, value_word

TRANSFER, BLOCK_IN, LAST = "transfer", "block-in", "edges and accents"
"""Names of the passes that are no feature."""

FEATURES: Final = ("eyes", "nose", "mouth", "ears", "face", "hair", "neck", "clothing", "object", "ground")
"""The features in the order in which they are finished over a block-in."""

STUDY_MIN: Final = 45
"""What takes no longer to be finished is a study, painted in one layer, the ground first. Source: ours, no other."""

_LOOKS: Final = frozenset({"eyes", "nose", "mouth", "ears", "face"})
_HAIR_EDGE: Final = "ground at the hair"
_TONE_VALUE: Final = 5.0
"""A tone of the middle value shows darks and lights alike."""

_STRIP_CM, _STRIP_FRAC, _STRIP_BRUSH_MM = 2.0, 0.3, 12.0
"""So broad a strip of the ground is painted with the hair, and at most this share of the shape it is of; ours."""

_LINE_MIN_PER_CM, _DRAWING_MIN = 0.04, (10, MOST_RUN_MIN)
_TONE_MIN_PER_CM2, _TONE_MIN = 0.01, (5, MOST_RUN_MIN)
_FIRST_CM: Final = 1000.0
"""Hair and ground count as so much soft edge: they go before all others."""

_EDGE_MIN_PER_CM, _EDGE_CM = 0.25, 0.5
_SEEN_STEPS: Final = 0.3
"""Under so many steps of value apart an edge is not seen. Source: ours, no other."""

_ACCENT_MIN, _ACCENT_CM2 = 5, 0.5
_CHECK_MIN: Final = 5
_CHECK_NAMES: Final = {
    "mirror": "in the mirror",
    "upside down": "upside down",
    "step back": "from three canvas heights away",
    "fresh eye": "with a fresh eye, next morning",
    "colour": "colour against the photo",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Studio:
    """What the stages are set out with.

    Attributes:
        values: How the values of the photo are fitted into those of paint.
        brushes_mm: Widths of the brushes, the smallest first; may be empty.
        canvas_cm2: Area of a canvas; None where it is not known.
        line_cm: How much line there is to draw.
        tone: Name of the mixture of the tone the canvas is given; None where there is none.
        features: The features in the order in which they are finished over a block-in; a study takes them backwards.
    """

    values: ValueRange
    brushes_mm: tuple[float, ...] = ()
    canvas_cm2: float | None = None
    line_cm: float = 0.0
    tone: str | None = None
    features: tuple[str, ...] = FEATURES


@dataclass(frozen=True, slots=True, kw_only=True)
class _Laid:
    """A part that stands in a pass.

    Attributes:
        address: Pass and name of its passage.
        run_of: Pass and number of its run.
    """

    part: Part
    passage: Passage
    address: Address
    run_of: tuple[str, int]


def is_study(finish: Sequence[Part]) -> bool:
    """Return whether a picture is painted in one layer."""
    return sum(part.minutes for part in finish) <= STUDY_MIN


def staged(finish: Sequence[Part], meetings: Meetings, block_in: BlockIn | None, studio: Studio) -> tuple[Pass, ...]:
    """Return the passes of a portrait.

    Args:
        finish: What is painted of each feature.
        meetings: How its groups touch.
        block_in: What is laid in first; None for a study in one layer, which begins with the ground.
        studio: What it is set out with.
    """
    passes, below = [_transfer(studio)], dict[int, Address]()
    if block_in is not None:
        laid = _laid(BLOCK_IN, block_in.parts, block_in.meetings, studio, {})
        passes.append(_pass(BLOCK_IN, laid, "step back"))
        of_group = {one.part.group: one.address for one in laid}
        below = {group: of_group[number] for group, number in block_in.below.items()}
    parts = _with_hair_edges(finish, meetings)
    names = _pass_names(parts, studio.features if block_in else studio.features[::-1])
    done: list[_Laid] = []
    for name, own in names.items():
        laid = _laid(name, own, _hair_and_ground(meetings, own), studio, below)
        done += laid
        passes.append(_pass(name, laid, _check_after(name, list(names), own)))
    if block_in is not None:
        passes.append(_edges_and_accents(done, meetings))
    return tuple(passes)


def _transfer(studio: Studio) -> Pass:
    drawing = Passage(name="drawing", planned_s=60 * _within(_LINE_MIN_PER_CM * studio.line_cm, _DRAWING_MIN))
    tone = Passage(
        name="wiped-on tone, middle",
        planned_s=60 * _within(_TONE_MIN_PER_CM2 * (studio.canvas_cm2 or 0.0), _TONE_MIN),
        value=round(studio.values.paint_value(_TONE_VALUE), 1),
        mixture=studio.tone,
    )  # no area is stated: it is wiped thin, and the paint for it would be reckoned as for a layer
    return _made(TRANSFER, (drawing, _check("upside down"), tone))


def _within(minutes: float, bounds: tuple[int, int]) -> int:
    return min(max(round(minutes), bounds[0]), bounds[1])


def _check(check: str) -> Passage:
    return Passage(name=_CHECK_NAMES[check], planned_s=60 * _CHECK_MIN, check=check)


def _made(name: str, passages: tuple[Passage, ...]) -> Pass:
    return Pass(name=name, passages=passages, runs=runs_of(name, passages))


def _pass(name: str, laid: Sequence[_Laid], check: str | None) -> Pass:
    passages = tuple(one.passage for one in laid)
    return _made(name, passages if check is None else (*passages, _check(check)))


def _pass_names(parts: Sequence[Part], features: Sequence[str]) -> dict[str, list[Part]]:
    """Return the parts by the name of their pass, in the order of the features and in each of the sitters."""
    sitters = list(dict.fromkeys(part.sitter for part in parts if not _is_strip(part)))
    found = {}
    for feature in features:
        for sitter in sitters:
            own = [part for part in parts if (part.feature, part.sitter) == (feature, sitter)]
            if own:
                found[f"{sitter} {feature}".strip()] = own
    return found


def _check_after(name: str, names: Sequence[str], own: Sequence[Part]) -> str | None:
    """Return how the canvas is looked at after a pass; None where work goes on."""
    if name == names[-1]:
        return "colour"
    next_name = names[names.index(name) + 1]
    is_look = [one.rpartition(" ")[2] in _LOOKS for one in (name, next_name)]
    if is_look == [True, False]:
        return "mirror"
    return "upside down" if own[0].feature == "hair" else None


def _with_hair_edges(parts: Sequence[Part], meetings: Meetings) -> list[Part]:
    """Return the parts with the strips of ground along the hair, which are painted with it so that they meet wet."""
    hair: dict[str, list[Part]] = {}
    for part in parts:
        if part.zone is Zone.HAIR:
            hair.setdefault(part.sitter, []).append(part)
    found = []
    for part in parts:
        left = part
        for sitter, own in hair.items() if part.zone is Zone.GROUND else ():
            cm = sum(meeting(part, one, meetings).cm for one in own)
            if cm >= SEEN_CM and part.area_cm2:
                frac = min(_STRIP_FRAC / len(hair), cm * _STRIP_CM / part.area_cm2)
                brush_mm = min(part.brush_mm or _STRIP_BRUSH_MM, _STRIP_BRUSH_MM)
                strip = replace(part, feature="hair", sitter=sitter, place=_HAIR_EDGE, name=None, brush_mm=brush_mm)
                found.append(_share(strip, frac))
                left = _share(left, 1 - frac)
        found.append(left)
    return found


def _share(part: Part, frac: float) -> Part:
    area_cm2 = None if part.area_cm2 is None else part.area_cm2 * frac
    return replace(part, area_cm2=area_cm2, minutes=max(LEAST_MIN, round(part.minutes * frac)))


def _hair_and_ground(meetings: Meetings, parts: Sequence[Part]) -> Meetings:
    """Return how the groups touch, hair and the strips of ground in its pass before all soft edges."""
    strips = {part.group for part in parts if _is_strip(part)}
    if not strips:
        return meetings
    hair = {part.group for part in parts} - strips
    return {
        one: {
            other: Meeting(edge.cm, edge.soft_cm + _FIRST_CM) if {one, other} & strips and {one, other} & hair else edge
            for other, edge in touched.items()
        }
        for one, touched in meetings.items()
    }


def _laid(
    name: str, parts: Sequence[Part], meetings: Meetings, studio: Studio, below: Mapping[int, Address]
) -> list[_Laid]:
    """Return the parts of a pass as they are painted: in runs, each beside the one before it."""
    runs = sorted(runs_of_parts(parts, meetings), key=lambda run: all(map(_is_strip, run)))
    word = big_value_word if name == BLOCK_IN else value_word
    ordered = [part for run in runs for part in run]
    names = iter(
        told_apart(
            [one.name or f"{one.place}, {word(one.photo_value)}" for one in ordered], [one.lab for one in ordered]
        )
    )
    laid: list[_Laid] = []
    for number, run in enumerate(runs):
        beside, brush_mm = None, None
        for part in run:
            brush_mm = _brush_mm(part, studio.brushes_mm, brush_mm)
            passage = Passage(
                name=next(names),
                planned_s=60 * part.minutes,
                value=round(studio.values.paint_value(part.photo_value), 1),
                area_cm2=rounded_cm2(part.area_cm2) if part.area_cm2 and studio.canvas_cm2 else None,
                mixture=part.mixture,
                beside=beside,
                over=below.get(part.group),
                shapes=part.shapes,
                brush_mm=brush_mm,
            )
            if all(map(_is_strip, run)):
                passage = passage._replace(over=None, into=_into_hair(part, laid, meetings))
            laid.append(_Laid(part=part, passage=passage, address=(name, passage.name), run_of=(name, number)))
            beside = passage.name
    return laid


def _brush_mm(part: Part, brushes_mm: Sequence[float], before_mm: float | None) -> float | None:
    """Return the widest brush that fits; the one in the hand where it is not half as wide."""
    if part.brush_mm is None or not brushes_mm:
        return None
    widest = max((own for own in brushes_mm if own <= part.brush_mm), default=min(brushes_mm))
    return before_mm if before_mm is not None and widest / 2 <= before_mm <= widest else widest


def _is_strip(part: Part) -> bool:
    """Return whether a part is ground that is painted with the hair."""
    return part.zone is Zone.GROUND and part.feature == "hair"


def _into_hair(strip: Part, laid: Sequence[_Laid], meetings: Meetings) -> Address:
    """Return the hair that a strip of ground with a run of its own is painted into: the longest edge."""
    hair = [one for one in laid if one.part.zone is Zone.HAIR]
    return max(hair, key=lambda one: meeting(strip, one.part, meetings).cm).address


def _edges_and_accents(done: Sequence[_Laid], meetings: Meetings) -> Pass:
    """Return the last pass: edges that no run could keep wet, the darkest and lightest accents, each over dry paint."""
    taken: set[str] = set()
    accents = [accent for one in _accents(done) for accent in _once(one, taken)]
    edges = [edge for one in _edges(done, meetings) for edge in _once(one, taken)]
    names = told_apart([one.name for one in (*edges, *accents)], [None] * len(edges + accents))
    painted = [one._replace(name=name) for one, name in zip((*edges, *accents), names, strict=True)]
    return _made(LAST, (_check("fresh eye"), *painted, _check("step back")))


def _once(passage: Passage, taken: set[str]) -> Iterator[Passage]:
    """Yield a passage with those of its shapes that no other one of the pass has."""
    own = tuple(shape for shape in passage.shapes if shape not in taken)
    taken.update(own)
    if own or not passage.shapes:
        yield passage._replace(shapes=own)


def _edges(done: Sequence[_Laid], meetings: Meetings) -> Iterator[Passage]:
    """Yield for each mass the soft edges between its runs, and to masses after it: flesh first, ground last."""
    order = (Zone.FLESH, Zone.HAIR, Zone.CLOTHING, Zone.OBJECT, Zone.GROUND)
    soft_cm, members = dict[Zone, float](), dict[Zone, list[_Laid]]()
    for number, one in enumerate(done):
        for other in done[number + 1 :]:
            cm = meeting(one.part, other.part, meetings).soft_cm
            if cm >= SEEN_CM and one.run_of != other.run_of and _is_seen(one.part, other.part):
                first, second = sorted((one, other), key=lambda own: order.index(own.part.zone))
                soft_cm[first.part.zone] = soft_cm.get(first.part.zone, 0.0) + cm
                members.setdefault(first.part.zone, []).extend((first, second))
    for zone in order:
        if zone in members:
            minutes = min(MOST_RUN_MIN, max(LEAST_MIN, round(_EDGE_MIN_PER_CM * soft_cm[zone])))
            area_cm2 = soft_cm[zone] * _EDGE_CM
            mass = "face" if zone is Zone.FLESH else zone.value
            yield _over(f"{mass} edges, soft", minutes, area_cm2, members[zone])


def _is_seen(one: Part, other: Part) -> bool:
    """Return whether an edge can be seen: parts of one group, or of one value, run into each other anyway."""
    return one.group != other.group and abs(one.photo_value - other.photo_value) >= _SEEN_STEPS


def _accents(done: Sequence[_Laid]) -> Iterator[Passage]:
    """Yield for each sitter the darkest accent and the lightest light of the face, of eyes, nose and mouth if there."""
    for sitter in dict.fromkeys(one.part.sitter for one in done if one.part.feature in _LOOKS):
        face = [one for one in done if one.part.feature in _LOOKS and one.part.sitter == sitter]
        look = [one for one in face if one.part.feature not in ("face", "ears")] or face
        dark, light = (choose(look, key=lambda one: one.part.photo_value) for choose in (min, max))
        yield _over(f"{sitter} accents, darkest".strip(), _ACCENT_MIN, _ACCENT_CM2, [dark])
        if light is not dark:
            yield _over(f"{sitter} lights, lightest".strip(), _ACCENT_MIN, _ACCENT_CM2, [light])


def _over(name: str, minutes: int, area_cm2: float, members: Sequence[_Laid]) -> Passage:
    """Return a passage over what is dry, with all its shapes, in the mixture of the largest of its mass."""
    own = [one for one in members if one.part.zone is members[0].part.zone]
    largest = max(own, key=lambda one: one.part.area_cm2 or 0.0)
    shapes = dict.fromkeys(shape for one in members for shape in one.part.shapes)
    return Passage(
        name=name,
        planned_s=60 * minutes,
        value=largest.passage.value,
        area_cm2=None if largest.passage.area_cm2 is None else rounded_cm2(area_cm2),
        mixture=largest.passage.mixture,
        over=largest.address,
        shapes=tuple(shapes),
    )
