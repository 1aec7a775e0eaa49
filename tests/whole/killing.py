"""Kills the coach again and again at random moments, and keeps count of what is lost of what the screen had shown."""

import random
import re
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final, NamedTuple

from tests.whole.terminal import Terminal, coach

_COLUMNS: Final = 80
_LINES: Final = 12
"""A window this low shows the time in plain letters, which are read off more surely than block letters."""

_TURN = re.compile(r"turn (\d+) of")
_TIME = re.compile(r"(?<![\d:])(\d+):(\d\d) of \d")
_NOTE = re.compile(r"“(note \d+)”")


class Shown(NamedTuple):
    """What stands on the screen: number of the turn, seconds on it (None during a rest), and notes."""

    turn: int
    time_s: int | None
    notes: frozenset[str]


@dataclass(slots=True, kw_only=True)
class Tally:
    """What came of the kills.

    Attributes:
        kills: How often the coach was killed.
        turns: Number of the turn on the screen at the end.
        notes: Every note that was acknowledged: shown, or followed by a move that took effect.
        losses: A sentence for everything that was shown and lost, or not as it should be.
    """

    kills: int = 0
    turns: int = 0
    notes: set[str] = field(default_factory=set)
    losses: list[str] = field(default_factory=list)


def shown(terminal: Terminal) -> Shown:
    """Return what stands on the screen; the screen shows a turn."""
    text = terminal.text
    turn, time = _TURN.search(text), _TIME.search(text)
    assert turn is not None, text
    return Shown(
        turn=int(turn[1]),
        time_s=int(time[1]) * 60 + int(time[2]) if time else None,
        notes=frozenset(_NOTE.findall(text)),
    )


def kill_often(plan: Path, *, kills: int, seed: int) -> Tally:
    """Work on one commission, kill the coach `kills` times, go on each time, and end the session properly."""
    chance, tally = random.Random(seed), Tally()  # noqa: S311  the moments need no secrecy
    before, unanswered = None, 0
    for number in range(kills):
        with coach(plan, columns=_COLUMNS, lines=_LINES) as terminal:
            _reopen(terminal, before, unanswered, tally)
            unanswered = _work(terminal, chance, number, tally)
            terminal.die()
            before = shown(terminal)
            tally.kills += 1
            tally.notes |= before.notes
    with coach(plan, columns=_COLUMNS, lines=_LINES) as terminal:
        _reopen(terminal, before, unanswered, tally)
        _press(terminal, "space")
        tally.turns = shown(terminal).turn
        terminal.type("e")
        terminal.until_shown("after the session")
        terminal.leave()
    return tally


def _reopen(terminal: Terminal, before: Shown | None, unanswered: int, tally: Tally) -> None:
    """Look at the first screen, and hold it against the last one before the kill."""
    terminal.until_shown("turn ", "what else")
    if before is None:
        terminal.type("space")
        terminal.until_shown("Space done")
        return
    now = shown(terminal)
    kill = f"kill {tally.kills}"
    if not before.turn <= now.turn <= before.turn + unanswered:
        tally.losses.append(f"{kill}: turn {before.turn} was shown, {unanswered} keys more; now {now.turn}")
    if now.turn == before.turn and (now.time_s or 0) < (before.time_s or 0):
        tally.losses.append(f"{kill}: {before.time_s} s were shown, now {now.time_s} s")


def _press(terminal: Terminal, key: str) -> None:
    """Go on by one key, and see that it takes effect with no question asked."""
    wanted = shown(terminal).turn + 1
    terminal.type(key)
    terminal.until(lambda: shown(terminal).turn == wanted)


def _work(terminal: Terminal, chance: random.Random, number: int, tally: Tally) -> int:
    """Work until a random moment; return how many keys that go on were typed and perhaps not answered."""
    stays = chance.random() < 0.4
    if stays:  # lets the seconds on one turn add up over several kills
        _look_for(terminal, chance.uniform(0.3, 1.3))
        return 0
    _press(terminal, chance.choice(("space", "enter", "pagedown", "right")))
    if chance.random() < 0.4:
        terminal.type("n")
        terminal.until_shown("Enter keeps it")
        terminal.type(f"note {number}", "enter")
        terminal.until(lambda: "Enter keeps it" not in terminal.text)
        _press(terminal, "space")  # keys take effect in order: once this one has, the note is acknowledged
        tally.notes.add(f"note {number}")
    keys = chance.randrange(4)
    for _ in range(keys):
        terminal.type("space")
        _look_for(terminal, chance.uniform(0.0, 0.01))
    _look_for(terminal, chance.uniform(0.0, 0.06))
    return keys


def _look_for(terminal: Terminal, span_s: float) -> None:
    end_s = time.perf_counter() + span_s
    while (left_s := end_s - time.perf_counter()) > 0:
        terminal.look(left_s)
