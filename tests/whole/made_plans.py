"""Plans made for tests and measurements: as long as wanted, every run a single passage."""

CANVASES = ("Hall", "School")
"""Names of the two canvases."""

PRESS = "limits: {press: 0 s}"
"""Lets every key count, however fast the keys of a test come."""


def plan_text(passes: int, passages: int) -> str:
    """Return a plan of two canvases with so many passes, and so many passages in each."""
    lines = ["canvases: [{name: Hall, place: left}, {name: School, place: right}]", PRESS, "passes:"]
    for number in range(1, passes + 1):
        lines += [f"  - name: pass {number}", "    passages:"]
        lines += [f"      - {{name: shape {number}.{n}, minutes: 3}}" for n in range(1, passages + 1)]
    return "\n".join(lines) + "\n"
