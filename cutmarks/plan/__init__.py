"""From a job to its plan: the whole way through the stages below, and what comes of it."""

from cutmarks.plan.flow import make_plan
from cutmarks.plan.model import AreaPlan, Plan, Progress, Say, StartReason, SurfacePlan, paper_of
from cutmarks.plan.surfaces import cores_of

__all__ = [
    "AreaPlan",
    "Plan",
    "Progress",
    "Say",
    "StartReason",
    "SurfacePlan",
    "cores_of",
    "make_plan",
    "paper_of",
]
