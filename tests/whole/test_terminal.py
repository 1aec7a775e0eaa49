"""The terminal is left as it was, whatever ends or stops the coach; a terminal that is gone ends it."""

import os
import signal
import subprocess
import sys
import termios
import threading
import time
from pathlib import Path
from typing import Any

import pytest
from textual.app import App
from textual.drivers._writer_thread import WriterThread

from coach.screens.terminal import _TerminalDriver
from tests.whole.made_plans import plan_text
from tests.whole.terminal import Terminal, coach

_BEGUN = ("Space done", "turn 1 of 40")


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """Return a plan of 40 turns in a folder of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(plan_text(2, 10))
    return path


def begin(terminal: Terminal) -> None:
    """Begin a session and wait until it is shown."""
    terminal.until_shown("turn 1 of 40", "what else")
    terminal.type("space")
    terminal.until_shown(*_BEGUN)


def echoes(terminal: Terminal) -> bool:
    """Return whether what is typed is shown: the terminal is a shell's again."""
    return bool(termios.tcgetattr(terminal._descriptor)[3] & termios.ECHO)


@pytest.mark.parametrize("ending", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_a_signal_ends_the_coach_and_leaves_the_terminal_as_it_was(plan: Path, ending: signal.Signals) -> None:
    with coach(plan) as terminal:
        begin(terminal)
        assert not echoes(terminal)
        os.kill(terminal.pid, ending)
        said = b""
        while terminal.is_open:
            said += terminal.read(1.0)
        assert terminal.wait() == 128 + ending
        # xterm's manual: ?1049 is the other screen, ?25 the cursor, ?1003 the mouse, ?2004 the brackets about a paste.
        assert all(f"\x1b[?{mode}".encode() in said for mode in ("1049l", "25h", "1003l", "2004l"))
    with coach(plan) as terminal:
        terminal.until_shown("turn 1 of 40", "Space done")
        assert terminal.leave() == 0


def test_after_a_stop_the_screen_is_drawn_anew_and_the_echo_comes_back_at_the_end(plan: Path) -> None:
    with coach(plan) as terminal:
        begin(terminal)
        os.kill(terminal.pid, signal.SIGSTOP)  # asks nobody
        os.waitpid(terminal.pid, os.WUNTRACED)
        terminal.screen.reset()
        os.kill(terminal.pid, signal.SIGCONT)
        terminal.until_shown(*_BEGUN, "what else")
        terminal.type("\x1a")  # Ctrl-Z
        os.waitpid(terminal.pid, os.WUNTRACED)
        assert echoes(terminal)
        terminal.screen.reset()
        os.kill(terminal.pid, signal.SIGCONT)
        terminal.until_shown(*_BEGUN, "what else")
        assert not echoes(terminal)
        terminal.type("q")
        was_cooked = False
        while terminal.is_open:
            was_cooked = was_cooked or echoes(terminal)
            terminal.look(0.02)
        assert was_cooked
        assert terminal.wait() == 0


@pytest.mark.parametrize("trap", ["", "trap '' HUP; "])
def test_a_terminal_that_is_gone_ends_the_coach_also_where_the_signal_is_ignored(plan: Path, trap: str) -> None:
    command = ["/bin/sh", "-c", f'{trap}exec "$@"', "sh", sys.executable, "-m", "coach", str(plan)]
    terminal = Terminal(command)
    begin(terminal)
    os.close(terminal._descriptor)
    assert terminal.wait() == 128 + signal.SIGHUP
    with coach(plan) as again:
        again.until_shown("turn 1 of 40", "what else")
        assert "open in another coach" not in again.text
        assert again.leave() == 0


def test_ctrl_c_in_a_command_that_prints_is_one_line(plan: Path) -> None:
    plan.write_text(plan_text(60, 100))
    heard = "import signal, sys; signal.signal(signal.SIGINT, signal.default_int_handler)"  # also in the background
    command = [sys.executable, "-c", f"{heard}; from coach.cli import main; sys.exit(main())", "order", str(plan)]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True) as process:
        status = Path(f"/proc/{process.pid}/maps")
        while "_yaml" not in status.read_text():  # it has begun to read the plan
            time.sleep(0.01)
        process.send_signal(signal.SIGINT)
        assert process.stderr is not None
        assert process.stderr.read() == "stopped\n"
        assert process.wait() == 130


async def test_what_waits_for_a_slow_line_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(signal, "signal", lambda *_: None)
    master, slave = os.openpty()
    driver = _TerminalDriver(App[Any]())
    assert not driver.has_unsent()
    with os.fdopen(slave, "w") as file:
        thread = driver._writer_thread = WriterThread(file)
        thread.start()
        assert not driver.has_unsent()
        threads = [threading.Thread(target=thread.write, args=("x" * 4000,), daemon=True) for _ in range(40)]
        for one in threads:
            one.start()
        while not thread._queue.qsize():
            time.sleep(0.01)  # noqa: ASYNC251  nothing else runs in the loop
        assert driver.has_unsent()
        taken = 0
        while taken < 40 * 4000:
            taken += len(os.read(master, 1 << 16))
        while driver.has_unsent():
            time.sleep(0.01)  # noqa: ASYNC251  the same
        thread.stop()
    os.close(master)
