"""The paint of a whole work as plain values, ready for JSON."""

from coach.composition.quantity import MixtureNeed, Pile, Quantities


def quantities_plain(found: Quantities) -> dict[str, object]:
    """Return the quantities as plain values; millilitres to the tenth."""
    return {
        "mixtures": [
            _plain_need(need) | {"paints_ml": {paint: round(ml, 1) for paint, ml in need.paints_ml}}
            for need in found.mixtures
        ],
        "piles": [{"before": pile.pass_name} | _plain_need(pile) for pile in found.piles],
        "paints": [
            {"paint": paint.paint, "ml": round(paint.ml, 1), "tubes": paint.tubes, "estimate": paint.is_estimate}
            for paint in found.paints
        ],
        "film_um": found.film_um,
        "layers": found.layers,
        "waste_percent": round(100 * found.waste_frac, 1),
        "tube_ml": found.tube_ml,
        "uncounted": [{"pass": pass_name, "passage": passage} for pass_name, passage in found.uncounted],
    }


def _plain_need(need: Pile | MixtureNeed) -> dict[str, object]:
    return {
        "mixture": need.mixture,
        "cm2": round(need.cm2, 1),
        "ml": round(need.ml, 1),
        "estimate": need.is_estimate,
    }
