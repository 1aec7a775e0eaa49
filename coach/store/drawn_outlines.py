"""The outlines of the shapes beside a plan, read while the painter paints, so that no key waits for them."""

from collections.abc import Mapping
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

from coach.errors import CoachError
from coach.store.safe_files import stamp_of


class DrawnOutlines:
    """Reads the file of shapes in a thread whenever it is new, and keeps what was read."""

    def __init__(self, plan_path: Path) -> None:
        """Name the plan; nothing is read yet."""
        self._plan_path = plan_path
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="outlines")
        self._read_of: object = None
        self._found: Future[Mapping[str, str]] | None = None

    def prepare(self, name: str) -> None:
        """Begin to read the file of that name where it is new; nobody waits for it."""
        stamp = (name, stamp_of(self._plan_path.with_name(name)))
        if self._found is None or stamp != self._read_of:
            self._read_of = stamp
            self._found = self._thread.submit(self._read, name)

    def read(self, name: str) -> Mapping[str, str]:
        """Return the outline of every shape by its id, as path data of SVG; none where the file cannot be read."""
        self.prepare(name)
        return {} if self._found is None else self._found.result()

    def _read(self, name: str) -> Mapping[str, str]:
        from coach.shapes.svg_paths import path_data  # noqa: PLC0415  painting never waits for what reads drawings
        from coach.store.shape_file import load_shapes  # noqa: PLC0415  the same

        try:
            shapes = load_shapes(self._plan_path, name, None).shape_map.shapes
        except CoachError:  # whoever shows the shapes tells what is wrong with them
            return {}
        return {shape.id: path_data(shape.outline) for shape in shapes}
