"""How each screen behind the easel is made, which of them is kept, and which asks before it goes.

A screen is loaded when it is first asked for, so that the easel stands at once.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.screen import Screen

    from coach.screens.composition.screen import CompositionScreen
    from coach.screens.composition.state import PhotoRepository
    from coach.screens.deadline.screen import DeadlineScreen, ForecastSource
    from coach.screens.plan.repository import PlanRepository
    from coach.screens.plan.screen import PlanScreen
    from coach.session.journal_state import JournalState


class ScreenFactory:
    """Makes the screens behind the easel; there is none where what it asks cannot be made."""

    def __init__(
        self,
        painted: "Callable[[], JournalState]",
        *,
        forecast_source: "Callable[[], ForecastSource] | None" = None,
        plan_repository: "Callable[[], PlanRepository] | None" = None,
        photo_repository: "Callable[[], PhotoRepository] | None" = None,
    ) -> None:
        """Take what makes that which the screens ask; each is called when its screen is made."""
        self._painted = painted
        self._forecast_source = forecast_source
        self._plan_repository = plan_repository
        self._photo_repository = photo_repository
        self._deadline: DeadlineScreen | None = None
        self._composition: CompositionScreen | None = None
        self._plan: PlanScreen | None = None

    def screen(self, name: str) -> "Screen[None] | None":
        """Return the screen of that name, or None where there is none."""
        match name:
            case "log":
                return self._log()
            case "deadline":
                return self._kept_deadline()
            case "plan":
                return self._new_plan()
            case _:
                return self._kept_composition()

    def may_leave(self) -> bool:
        """Return whether nothing is lost when the screen goes back to the easel; where something is, it says so."""
        if self._plan is not None and not self._plan.may_leave():
            return False
        self._plan = None
        return True

    def asking_to_stay(self) -> "Screen[None] | None":
        """Return the screen that asks first when the coach is left; None where nothing is lost."""
        if self._plan is not None and not self._plan.may_leave():
            return self._plan
        composition = self._composition
        return None if composition is None or composition.may_leave() else composition

    def _log(self) -> "Screen[None]":
        from coach.screens.log.screen import LogScreen  # noqa: PLC0415

        return LogScreen(self._painted())

    def _kept_deadline(self) -> "Screen[None] | None":
        from coach.screens.deadline.screen import DeadlineScreen  # noqa: PLC0415

        if self._deadline is None and self._forecast_source is not None:
            self._deadline = DeadlineScreen(self._forecast_source())
        return self._deadline

    def _new_plan(self) -> "Screen[None] | None":
        from coach.screens.plan.screen import PlanScreen  # noqa: PLC0415

        self._plan = None if self._plan_repository is None else PlanScreen(self._plan_repository())
        return self._plan

    def _kept_composition(self) -> "Screen[None] | None":
        from coach.screens.composition.screen import CompositionScreen  # noqa: PLC0415

        if self._composition is None and self._photo_repository is not None:
            self._composition = CompositionScreen(self._photo_repository())
        return self._composition
