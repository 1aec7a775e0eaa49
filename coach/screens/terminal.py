"""The terminal an app runs in: left as it was whatever ends the app, drawn anew after a stop, spared on a slow line."""

import asyncio
import os
import select
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from types import FrameType
from typing import Any, Final, TypeVar

from textual.app import App

if sys.platform == "win32":  # pragma: no cover  the tests run where terminals are devices

    def _guard_driver(app: App[Any]) -> None:
        """Leave the driver as it is: there are no stops."""
        del app

    def _modes(descriptor: int) -> None:
        del descriptor

    def _restore(descriptor: int, modes: None) -> None:
        del descriptor, modes

    def is_behind(app: App[Any]) -> bool:
        """Return that nothing is known to wait."""
        del app
        return False

else:
    import termios

    from textual.drivers.linux_driver import LinuxDriver

    class _TerminalDriver(LinuxDriver):
        """The framework's driver; it sets the terminal up anew also after a stop that it was not told of."""

        def _sigcont_application(self, *_: object) -> None:
            with suppress(RuntimeError):  # before the app runs there is nothing to set up
                asyncio.get_running_loop().call_soon_threadsafe(self._come_back)

        def _come_back(self) -> None:
            if not self._auto_restart:
                return
            if not self._must_signal_resume:  # SIGSTOP asks nobody, so that the modes are still set
                self.suspend_application_mode()
            self.resume_application_mode()
            self._app.refresh(layout=True)

        def has_unsent(self) -> bool:
            """Return whether something that was drawn waits for the line."""
            thread = self._writer_thread
            if thread is None:
                return False
            return thread._queue.qsize() > 0 or not select.select([], [thread], [], 0)[1]  # noqa: SLF001

    def _guard_driver(app: App[Any]) -> None:
        if issubclass(app.driver_class, LinuxDriver):
            app.driver_class = _TerminalDriver

    def _modes(descriptor: int) -> list[Any] | None:
        """Return the modes of a terminal; None where it is none."""
        try:
            return termios.tcgetattr(descriptor)
        except termios.error:
            return None

    def _restore(descriptor: int, modes: list[Any] | None) -> None:
        if modes is not None:
            with suppress(termios.error):
                termios.tcsetattr(descriptor, termios.TCSANOW, modes)

    def is_behind(app: App[Any]) -> bool:
        """Return whether what was drawn before still waits for a slow line: what is drawn now would wait behind it."""
        driver = app._driver  # noqa: SLF001  the framework has no other door to it
        return isinstance(driver, _TerminalDriver) and driver.has_unsent()


_PLAIN: Final = (
    b"\x1b[?2004l\x1b[?7h\x1b[?2048l\x1b[?1000l\x1b[?1003l\x1b[?1015l\x1b[?1006l\x1b[<u\x1b[?1049l\x1b[?25h\x1b[?1004l"
)
"""What the framework's driver writes at the end, for an end that cannot wait for it. Source: xterm's manual."""

_PATIENCE_S: Final = 2.0
"""How long an app that is to end may take."""

_ENDING: Final = tuple(getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if hasattr(signal, name))
_BY_SIGNAL: Final = 128
"""What is added to a signal's number in an exit status. Source: POSIX, Shell Command Language, 2.8.2 (from memory)."""

_LATER_S: Final = 0.1

T = TypeVar("T")


class PatientDrawing:
    """Draws when it is called; on a slow line, where that would wait behind an older picture, once a moment later."""

    def __init__(self, app: App[Any], draw: Callable[[], None]) -> None:
        self._app, self._draw = app, draw
        self._waits = False

    def __call__(self) -> None:
        """Draw now, or when the line is free."""
        if not is_behind(self._app):
            self._draw()
        elif not self._waits:
            self._waits = True
            self._app.set_timer(_LATER_S, self._again)

    def _again(self) -> None:
        self._waits = False
        self()


def run_app(app: App[T], *, keep_drafts: Callable[[], None] = lambda: None) -> T | None:
    """Run an app and return its answer; however it ends, the terminal is as it was.

    SIGINT, SIGTERM, SIGHUP and a terminal that is gone end the app. Ctrl-Z stops it and gives the terminal back.

    Args:
        app: The app.
        keep_drafts: Called once when the app is ended by anything but its painter, so that unsaved work is kept. It may
            be called between any two instructions, and must not draw.

    Raises:
        SystemExit: A signal or the loss of the terminal has ended the app; 128 and the signal's number.
    """
    _guard_driver(app)
    app.bind("ctrl+z", "suspend_process", show=False)
    ending = _Ending(app, keep_drafts)
    try:
        with ending.on_signals(), ending.on_loss_of_terminal():
            answer = app.run()
        if app.return_code:
            ending.keep_drafts()
    finally:
        ending.is_over()
    if ending.signal_no:
        raise SystemExit(_BY_SIGNAL + ending.signal_no)
    return answer


class _Ending:
    """How an app is ended from outside."""

    def __init__(self, app: App[T], keep_drafts: Callable[[], None]) -> None:
        self.signal_no = 0
        self._app, self._keep_drafts = app, keep_drafts
        self._are_kept = False
        self._force = threading.Timer(_PATIENCE_S, self._end_now)
        self._force.daemon = True
        self._descriptor = sys.__stdin__.fileno() if sys.__stdin__ else -1
        self._before = _modes(self._descriptor)

    def is_over(self) -> None:
        """Take note that the app has ended, and set the terminal's modes as they were before it."""
        self._force.cancel()
        _restore(self._descriptor, self._before)

    def keep_drafts(self) -> None:
        """Keep unsaved work, once."""
        if not self._are_kept:
            self._are_kept = True
            self._keep_drafts()

    @contextmanager
    def on_signals(self) -> Iterator[None]:
        """End the app on a signal; one that is ignored stays so, as `nohup` wants it."""
        before = {one: signal.getsignal(one) for one in _ENDING}
        for one, handler in before.items():
            if handler is not signal.SIG_IGN:
                signal.signal(one, self._on_signal)
        try:
            yield
        finally:
            for one, handler in before.items():
                signal.signal(one, handler)

    def _on_signal(self, signal_no: int, _: FrameType | None) -> None:
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # the app does not run yet, or no more
            self.keep_drafts()
            raise SystemExit(_BY_SIGNAL + signal_no) from None
        self._end(signal_no, loop)

    def _end(self, signal_no: int, loop: asyncio.AbstractEventLoop) -> None:
        if self.signal_no:
            return
        self.signal_no = signal_no
        if not self._force.is_alive():
            self._force.start()
        self.keep_drafts()
        loop.call_soon_threadsafe(self._app.exit)

    def _end_now(self) -> None:
        """End the process where the app cannot end: what is on the disk is safe, and the lock goes with the process."""
        self.keep_drafts()
        _restore(self._descriptor, self._before)
        with suppress(OSError):
            os.set_blocking(self._descriptor, False)
            os.write(self._descriptor, _PLAIN)
        os._exit(_BY_SIGNAL + (self.signal_no or signal.SIGHUP))

    @contextmanager
    def on_loss_of_terminal(self) -> Iterator[None]:
        """End the app when its terminal is gone, also where SIGHUP is ignored: it would read nothing without end."""
        if self._before is None or not hasattr(select, "poll"):
            yield
            return
        stop_reading, stop = os.pipe()

        def wait() -> None:
            waiting = select.poll()
            waiting.register(self._descriptor, 0)
            waiting.register(stop_reading, select.POLLIN)
            found = dict(waiting.poll())
            if found.get(self._descriptor, 0) & select.POLLHUP:
                self._force.start()  # the app may be waiting for good to be rid of what it has drawn
                loop = self._app._loop  # noqa: SLF001  the framework has no other door to it
                if loop is not None:
                    loop.call_soon_threadsafe(self._end, signal.SIGHUP, loop)

        watcher = threading.Thread(target=wait, daemon=True)
        watcher.start()
        try:
            yield
        finally:
            os.write(stop, b"x")
            watcher.join()
            os.close(stop)
            os.close(stop_reading)
