"""The choices of canvas as plain values, ready for JSON."""

from collections.abc import Sequence

from coach.composition.choices import Choice, rule_of
from coach.composition.life_size import life_percent
from coach.composition.placed_heads import EDGES, PlacedHead


def choices_plain(
    choices: Sequence[Choice], *, life_frac: float | None = None, remarks: Sequence[str] = ()
) -> dict[str, object]:
    """Return the choices and the rule as plain values; `remarks` are said once, about all of them."""
    return {
        "rule": rule_of(life_frac),
        "choices": [_plain(choice) for choice in choices],
        "remarks": list(remarks),
    }


def _plain(choice: Choice) -> dict[str, object]:
    crop = choice.crop
    return {
        "canvas": choice.canvas.name,
        "direction": choice.direction,
        "crop": [crop.left_px, crop.top_px, crop.width_px, crop.height_px],
        "heads": [_plain_head(head) for head in choice.heads],
        "heads_cm2": round(choice.heads_cm2, 1),
        "placing": [_plain_placing(head) for head in choice.heads],
        "photo_lost_percent": round(100 * choice.photo_lost_frac, 1),
        "scale_px_per_cm": round(choice.scale_px_per_cm, 1),
        "warnings": list(choice.warnings),
    }


def _plain_head(head: PlacedHead) -> dict[str, object]:
    percent = life_percent(head.height_mm)
    return {
        "name": head.name,
        "cm": round(head.height_mm / 10, 1),
        "life_percent": {"man": round(percent.man, 1), "woman": round(percent.woman, 1)},
    }


def _plain_placing(head: PlacedHead) -> dict[str, object]:
    margins = {edge: round(room / 10, 1) for edge, room in zip(EDGES, head.margins_mm, strict=True)}
    return {"name": head.name, "eye_line_cm": round(head.eye_line_mm / 10, 1), "margins_cm": margins}
