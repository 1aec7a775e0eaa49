"""Speed of the Plan screen on a plan of 5,000 passages, held against the barest app of the framework."""

import time
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Final

from tests.bench.drive import PAUSE_S, Program, bare, coach
from tests.bench.made import made_plan

MOST_RATIO: Final = 1.5
"""A key may take at most so many times the bare app's."""

_PASSES: Final = 50
_PASSAGES: Final = 100
_ROUNDS: Final = 12
_SIZES: Final = ((100, 30), (140, 40))
"""Columns and lines: without and with the order of work beside the tree."""

_LIMIT_S: Final = 60.0
_REST_S: Final = 0.5
_PLANNED_S: Final = 6.0
_KEYS: Final = {
    "going down a row": (b"\x1b[B",),
    "half a screen down and up": (b"\x1b[6~", b"\x1b[5~"),
    "moving a run down and up": (b"]", b"["),
    "joining and undoing": (b"j", b"u"),
    "undoing and redoing": (b"u", b"y"),
    "sorting dark to light": (b"t",),
}
"""Keys pressed one after the other. Source of the sequences: ECMA-48 (cursor keys), xterm control sequences."""


def plan_figures() -> list[str]:
    """Return what a key costs in a plan of 5,000 passages, a sentence each."""
    with TemporaryDirectory() as folder:
        plan = made_plan(Path(folder), passes=_PASSES, passages=_PASSAGES)
        return [line for size in _SIZES for line in _figures(plan, size)]


def _figures(plan: Path, size: tuple[int, int]) -> list[str]:
    with coach(plan) as program, bare() as base:
        program.start_s()
        base.start_s()
        for one in (program, base):
            one.set_size(*size)
            one.rest(_REST_S)
        _open(program)
        said = []
        for name, keys in _KEYS.items():
            ours, plain = [], []
            for _ in range(_ROUNDS):
                ours += [_answer_ms(program, key) for key in keys]
                plain.append(base.answer_s() * 1000)
            said.append(_sentence(f"{size[0]} columns, {name}", median(ours), median(plain)))
        program.send(b"]")
        program.rest(_REST_S)  # the order is being planned from now on
        busy = [_answer_ms(program, b"\x1b[B") for _ in range(4)]
        said.append(_sentence(f"{size[0]} columns, going down while the order is planned", median(busy), median(plain)))
        return said


def _open(program: Program) -> None:
    program.send(b"v")
    program.rest(_PLANNED_S)
    for _ in range(_ROUNDS):
        _answer_ms(program, b"\x1b[B")


def _answer_ms(program: Program, key: bytes) -> float:
    program.rest(PAUSE_S)
    pressed_s = time.perf_counter()
    program.send(key)
    if not program.read(_LIMIT_S):
        raise TimeoutError("the key was not answered")
    return (time.perf_counter() - pressed_s) * 1000


def _sentence(name: str, ours_ms: float, base_ms: float) -> str:
    ratio = ours_ms / base_ms
    word = "met" if ratio <= MOST_RATIO else "NOT MET"
    return f"{name}: {ours_ms:.1f} ms, bare {base_ms:.1f} ms; {ratio:.2f} times, {word}, at most {MOST_RATIO:g} times"


if __name__ == "__main__":
    print("\n".join(plan_figures()))
