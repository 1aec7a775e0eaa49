"""Speed of the Plan screen on a plan of 5,000 passages, held against the barest app of the framework."""

import time
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Final

from tests.bench.drive import PAUSE_S, Program, bare, coach
from tests.whole.made_plans import plan_text

MOST_RATIO: Final = 1.5
"""A key may take at most so many times the bare app's."""

_PASSES: Final = 50
_PASSAGES: Final = 100
_ROUNDS: Final = 12
_SIZES: Final = ((100, 30), (140, 40))
"""Columns and lines: without and with the order of work beside the tree."""

_LIMIT_S: Final = 60.0
_REST_S: Final = 0.5
_PLANNING_FROM_S: Final = 0.32
_PLANNED_S: Final = 6.0
_KEYS: Final = {
    "going down a row": (b"\x1b[B",),
    "half a screen down, then up": (b"\x1b[6~", b"\x1b[5~"),
    "moving a run down, then up": (b"]", b"["),
    "joining, then undoing": (b"j", b"u"),
    "redoing, then undoing": (b"\x19", b"u"),
    "opening the picture or the order, then the next": (b"\t", b"\t"),
}
"""Keys pressed one after the other. Source of the sequences: ECMA-48 (cursor keys), xterm control sequences."""


def plan_figures() -> list[str]:
    """Return what a key costs in a plan of 5,000 passages, a sentence each."""
    with TemporaryDirectory() as folder:
        plan = Path(folder) / "plan.yaml"
        lines = plan_text(_PASSES, _PASSAGES).split("\n")
        valued = (line.replace("minutes: 3", f"minutes: 3, value: {9 - no % 10}") for no, line in enumerate(lines))
        plan.write_text("\n".join(valued), encoding="utf-8")
        return [line for size in _SIZES for line in _figures(plan, size)]


def _figures(plan: Path, size: tuple[int, int]) -> list[str]:
    with coach(plan) as program, bare() as base:
        program.start_s()
        base.start_s()
        for one in (program, base):
            one.set_size(*size)
            one.rest(_REST_S)
        said = [f"{size[0]} columns, opening the Plan: {_opening_s(program):.2f} s"]
        for name, keys in _KEYS.items():
            rounds = [[_answer_ms(program, key) for key in keys] + [base.answer_s() * 1000] for _ in range(_ROUNDS)]
            *ours, plain = (median(times) for times in zip(*rounds, strict=True))
            said += [_sentence(f"{size[0]} columns, {name}", ours, plain)]
        program.send(b"]")
        busy = []
        for _ in range(_ROUNDS // 2):
            program.send(b"]")
            program.rest(_PLANNING_FROM_S)
            busy.append(_answer_ms(program, b"\x1b[B"))
            program.rest(_REST_S)
        said.append(_sentence(f"{size[0]} columns, going down while the order is planned", [median(busy)], plain))
        return said


def _opening_s(program: Program) -> float:
    pressed_s = time.perf_counter()
    program.send(b"v")
    seen = b""
    while b"is it sound?" not in seen:
        if time.perf_counter() - pressed_s > _LIMIT_S:
            raise TimeoutError(f"the Plan did not open: {seen!r}")
        seen += program.read(1.0)
    taken_s = time.perf_counter() - pressed_s
    program.rest(_PLANNED_S)
    for _ in range(_ROUNDS):
        _answer_ms(program, b"\x1b[B")
    return taken_s


def _answer_ms(program: Program, key: bytes) -> float:
    program.rest(PAUSE_S)
    pressed_s = time.perf_counter()
    program.send(key)
    if not program.read(_LIMIT_S):
        raise TimeoutError("the key was not answered")
    return (time.perf_counter() - pressed_s) * 1000


def _sentence(name: str, ours_ms: list[float], base_ms: float) -> str:
    told = ", then ".join(f"{ms:.1f} ms ({ms / base_ms:.2f} times)" for ms in ours_ms)
    word = "met" if max(ours_ms) <= MOST_RATIO * base_ms else "NOT MET"
    return f"{name}: {told}, bare {base_ms:.1f} ms; {word}, at most {MOST_RATIO:g} times"


if __name__ == "__main__":
    print("\n".join(plan_figures()))
