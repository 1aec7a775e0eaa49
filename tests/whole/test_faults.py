"""The attacks of `python -m tests.bench faults` that need no terminal, a few times each: nothing is lost."""

from pathlib import Path

import pytest

from tests.bench.faults import failing_calls, flips, full_disks, locks

_FEW = 3


@pytest.mark.parametrize("attack", [failing_calls, flips, full_disks, locks])
def test_nothing_is_lost(tmp_path: Path, attack: object) -> None:
    assert callable(attack)
    tried = attack(_FEW, tmp_path)
    assert tried.tried
    assert tried.losses == []
