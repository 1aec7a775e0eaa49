"""Ten tasks of a newcomer, each done on the screen by at most five keys, typed text aside."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final, NamedTuple

import pytest
from textual.pilot import Pilot

from coach.commands.log_of_plan import journal_state
from coach.plan.reading import read_plan
from coach.session.journal_state import JournalState
from coach.session.records import Phase
from tests.pages import ORCHARD, Stop, lay_out, pass_time, stop_at
from tests.screens.driving import shown
from tests.studio import Studio

MOST_KEYS: Final = 5
PLAN: Final = f"{ORCHARD}.yaml"


class Done(NamedTuple):
    """What there is after a task: the studio's folder, what the journal adds up to, and what the screen shows."""

    folder: Path
    journal: JournalState
    text: str


class Task(NamedTuple):
    """A task.

    Attributes:
        keys: The keys from the Easel, before or within the first turn; a text between quotes is typed.
        is_done: Whether it is done then.
        is_begun: Whether a session was begun and some minutes of its first turn are gone.
    """

    keys: str
    is_done: Callable[[Done], bool]
    is_begun: bool = True


TASKS: Final[dict[str, Task]] = {
    "begin": Task("space", lambda done: done.journal.phase is Phase.WORKING, is_begun=False),
    "I am at the other canvas": Task("o", lambda done: "out of turn" in done.text),
    "note": Task("n 'cooler' enter", lambda done: list(done.journal.notes) == ["cooler"]),
    "undo": Task("space u", lambda done: not done.journal.turns and done.journal.phase is Phase.WORKING),
    "rest": Task("r", lambda done: done.journal.phase is Phase.RESTING),
    "see the reference": Task("plus", lambda done: "screen colour, not paint" in done.text.splitlines()[-3]),
    "was it fair": Task("l tab", lambda done: "was it fair?" in done.text),
    "will it hold": Task("g", lambda done: "handed over by" in done.text),
    "add a passage": Task("v a 'scarf' enter w", lambda done: "scarf" in passages(done)),
    "end the day": Task("e", lambda done: done.journal.phase is Phase.NOT_BEGUN and "after the session" in done.text),
}


def passages(done: Done) -> list[str]:
    plan = read_plan((done.folder / PLAN).read_text(encoding="utf-8"), PLAN)
    return [one.name for each in plan.passes for one in each.passages]


@pytest.mark.parametrize("name", TASKS)
def test_a_newcomer_s_task_takes_at_most_five_keys(tmp_path: Path, name: str) -> None:
    task, studio = TASKS[name], Studio(tmp_path)
    lay_out(studio, ORCHARD)
    found: list[Done] = []

    async def act(pilot: Pilot[Any]) -> None:
        if task.is_begun:
            await stop_at(pilot, studio, Stop("", "space", ""))
            await pass_time(pilot, studio, 3)
        await stop_at(pilot, studio, Stop(name, task.keys, ""))
        found.append(Done(tmp_path, journal_state(tmp_path / PLAN), shown(pilot.app)))

    studio.coach(PLAN, acts=(act,))
    assert len(re.sub("'[^']*'", "", task.keys).split()) <= MOST_KEYS
    assert task.is_done(found[0]), found[0].text
