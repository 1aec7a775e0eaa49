"""How each screen behind the easel is made, which of them is kept, and which asks before it goes.

A screen is loaded when it is first asked for, so that the easel stands at once.
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from textual.screen import Screen

    from coach.screens.compare.repository import CompareRepository
    from coach.screens.composition.state import PhotoRepository
    from coach.screens.deadline.screen import ForecastSource
    from coach.screens.plan.repository import PlanRepository
    from coach.screens.shapes.repository import ShapesRepository
    from coach.screens.unsaved import UnsavedWork
    from coach.session.journal_state import JournalState
    from coach.session.moves import Move
    from coach.session.situation import Situation


class ScreenFactory:
    """Makes the screens behind the easel; there is none where what it asks cannot be made."""

    def __init__(
        self,
        painted: "Callable[[], JournalState]",
        *,
        forecast_source: "Callable[[], ForecastSource] | None" = None,
        plan_repository: "Callable[[], PlanRepository] | None" = None,
        photo_repository: "Callable[[], PhotoRepository] | None" = None,
        shapes_repository: "Callable[[], ShapesRepository] | None" = None,
        compare_repository: "Callable[[], CompareRepository] | None" = None,
    ) -> None:
        """Take what makes that which the screens ask; each is called when its screen is made."""
        self.is_picture_asked = False
        """Whether the Plan shows the photo on its tab only."""
        self._painted = painted
        self._forecast_source = forecast_source
        self._plan_repository = plan_repository
        self._photo_repository = photo_repository
        self._shapes_repository = shapes_repository
        self._compare_repository = compare_repository
        self.made: dict[str, UnsavedWork] = {}
        """The screens that may hold unsaved work, by their names; only the Plan is made anew each time."""

    def has(self, name: str) -> bool:
        """Return whether there is a screen behind that door; what is no door is always there."""
        asked = {
            "deadline": self._forecast_source,
            "plan": self._plan_repository,
            "composition": self._photo_repository,
            "shapes": self._shapes_repository,
            "compare": self._compare_repository,
        }
        return name not in asked or asked[name] is not None

    def screen(self, name: str, take_up: "Callable[[str], str]") -> "Screen[None] | None":
        """Return the screen of that name, or None where there is none.

        Args:
            name: The name.
            take_up: Returns the text of unsaved work of one kind that an earlier opening left; empty for none.
        """
        if name == "log":
            from coach.screens.log.screen import LogScreen  # noqa: PLC0415

            return LogScreen(self._painted())
        if name == "plan" and self._plan_repository is not None:
            from coach.screens.plan.repository import Around  # noqa: PLC0415
            from coach.screens.plan.screen import PlanScreen  # noqa: PLC0415

            before = self.made.get(name)
            left_over = before.left_over if isinstance(before, PlanScreen) else take_up(PlanScreen.DRAFT)
            around = Around(self._are_shapes_unsaved, is_picture_asked=self.is_picture_asked)
            self.made[name] = plan = PlanScreen(self._plan_repository(), left_over, around)
            return plan
        if name == "deadline":
            return self._deadline(take_up)
        if name == "shapes":
            return self._shapes(take_up)
        if name == "compare":
            return self._compare(take_up)
        return self._composition(take_up) if name == "composition" else None

    def _are_shapes_unsaved(self) -> bool:
        shapes = self.made.get("shapes")
        return shapes is not None and bool(shapes.unsaved())

    def moment(self, situation: "Callable[[], Situation]", make: "Callable[[Move], bool]") -> "Screen[None]":
        """Return the page of the moment; it asks for the situation, and records a move by `make`."""
        from coach.screens.moments.screen import MomentScreen  # noqa: PLC0415

        source = None if self._forecast_source is None else self._forecast_source()
        return MomentScreen(situation, self._painted, source, make)

    def _deadline(self, take_up: "Callable[[str], str]") -> "Screen[None] | None":
        from coach.screens.deadline.screen import DeadlineScreen  # noqa: PLC0415

        if "deadline" not in self.made and self._forecast_source is not None:
            self.made["deadline"] = DeadlineScreen(self._forecast_source(), take_up(DeadlineScreen.DRAFT))
        found = self.made.get("deadline")
        return found if isinstance(found, DeadlineScreen) else None

    def _composition(self, take_up: "Callable[[str], str]") -> "Screen[None] | None":
        from coach.screens.composition.screen import CompositionScreen  # noqa: PLC0415

        if "composition" not in self.made and self._photo_repository is not None:
            self.made["composition"] = CompositionScreen(self._photo_repository(), take_up(CompositionScreen.DRAFT))
        found = self.made.get("composition")
        return found if isinstance(found, CompositionScreen) else None

    def _shapes(self, take_up: "Callable[[str], str]") -> "Screen[None] | None":
        from coach.screens.shapes.screen import ShapesScreen  # noqa: PLC0415

        if "shapes" not in self.made and self._shapes_repository is not None:
            self.made["shapes"] = ShapesScreen(self._shapes_repository(), take_up(ShapesScreen.DRAFT))
        found = self.made.get("shapes")
        return found if isinstance(found, ShapesScreen) else None

    def _compare(self, take_up: "Callable[[str], str]") -> "Screen[None] | None":
        from coach.screens.compare.screen import CompareScreen  # noqa: PLC0415

        if "compare" not in self.made and self._compare_repository is not None:
            self.made["compare"] = CompareScreen(self._compare_repository(), take_up(CompareScreen.DRAFT))
        found = self.made.get("compare")
        return found if isinstance(found, CompareScreen) else None
