"""`coach [PLAN]`: the coach beside the easel."""

import argparse
import sys
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from coach.commands.painting import add_looks, paint
from coach.commands.plan_argument import PLAN_ENDINGS, add_plan
from coach.errors import UsageError
from coach.store.plan_file import PlanFile


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's file, or its name without ending; without it, choose one", is_optional=True)
    parser.add_argument("--demo", action="store_true", help="copy a plan of ours into this folder and open it")
    parser.add_argument("--pedal", action="store_true", help="teach the coach the key that your pedal or remote sends")
    add_looks(parser)


def run(asked: argparse.Namespace) -> int:
    """Open the coach with the plan that is named, with the demo plan, or with one that the painter chooses."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        if asked.plan is not None:
            PlanFile(asked.plan).read()  # a name that leads nowhere is said first
        raise UsageError("the easel needs a terminal; the commands that print do not (coach --help)")
    if asked.pedal:
        return _learn_pedal(light=asked.light)
    if asked.demo and asked.plan:
        raise UsageError("--demo opens a plan of ours; leave out the other plan")
    path, is_new = asked.plan, False
    if asked.demo:
        path = _demo_plan()
    elif path is None:
        path, is_new = _chosen_plan(light=asked.light)
    if path is None:
        return 0
    return paint(path, light=asked.light, rings=asked.bell, words_only=asked.words_only, is_new=is_new)


def _learn_pedal(*, light: bool) -> int:
    from coach.screens.pedal import PedalApp  # noqa: PLC0415  most painters have no pedal
    from coach.screens.terminal import run_app  # noqa: PLC0415
    from coach.store.settings import PEDAL_MEANINGS, load_settings, save_settings, settings_path  # noqa: PLC0415

    path = settings_path()
    settings, fault = load_settings(path)

    def keep(learned: Mapping[str, str]) -> None:
        save_settings(path, replace(settings, pedal=learned))

    run_app(PedalApp(tuple(PEDAL_MEANINGS), settings.pedal, keep, said=fault, light=light))
    return 0


def _demo_plan() -> Path:
    from coach.store.demo import put_demo_here  # noqa: PLC0415  most painters bring their own plan

    return put_demo_here(Path())


def _chosen_plan(*, light: bool) -> tuple[Path | None, bool]:
    """Return the plan that the painter chooses, None where the painter leaves, and whether it was just made."""
    from coach.commands.choosing import CommissionShelf  # noqa: PLC0415  only where no plan is named
    from coach.screens.chooser.screen import DEMO, NEW, ChooserApp  # noqa: PLC0415
    from coach.screens.terminal import run_app  # noqa: PLC0415

    folders = (Path(), Path("plans"))
    plans = sorted({found for one in folders for end in PLAN_ENDINGS for found in one.glob(f"*{end}")})
    if len(plans) == 1:
        return plans[0], False
    shelf = CommissionShelf(plans)
    chosen = run_app(ChooserApp(shelf.names, shelf.card, shelf.card_with_chance, light=light))
    if chosen == DEMO:
        return _demo_plan(), False
    if chosen == NEW:
        from coach.commands.new import new_plan  # noqa: PLC0415  the questions are loaded when they are asked

        return new_plan(None, light=light), True
    return None if chosen is None else plans[chosen], False
