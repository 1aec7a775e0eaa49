"""What a plan and its shapes say against each other."""

from coach.plan.commission import Plan
from coach.shapes.shape_map import ShapeMap, crop_remarks, ids_listed
from coach.text import sanitized


def remarks_on(plan: Plan, shape_map: ShapeMap) -> list[str]:
    """Return in a sentence each: shapes that are lost, that no passage has, and that the crop cuts or leaves out."""
    there = {shape.id for shape in shape_map.shapes}
    named: set[str] = set()
    remarks = []
    for one in plan.passes:
        for passage in one.passages:
            named |= set(passage.shapes)
            lost = [id_ for id_ in passage.shapes if id_ not in there]
            if lost:
                where = f"{sanitized(passage.name)} ({sanitized(one.name)})"
                remarks.append(f"{where} has {ids_listed(lost)}, which the file of shapes has not")
    spare = [shape.id for shape in shape_map.shapes if shape.id not in named]
    if named and spare:
        remarks.append(f"no passage has {ids_listed(spare)}")
    if plan.crop is not None:
        crop = plan.crop
        remarks += crop_remarks(shape_map, (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px))
    return remarks
