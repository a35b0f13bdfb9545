"""Planning: from a project to its plan. All that other rooms may use of it stands here.

Each name is fetched from its module when it is first asked for, so that a program which only
handles plans (`Plan`, `Sheet`, `Step` ...) never loads the search that makes them.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from workbench.planning.alternatives import WISHES as WISHES
    from workbench.planning.alternatives import Alternative as Alternative
    from workbench.planning.alternatives import Figures as Figures
    from workbench.planning.alternatives import figures_of as figures_of
    from workbench.planning.alternatives import find_alternatives as find_alternatives
    from workbench.planning.alternatives import largest_kept as largest_kept
    from workbench.planning.alternatives import plan_as_wished as plan_as_wished
    from workbench.planning.analysis.metrics import (
        settings_sheet_by_sheet as settings_sheet_by_sheet,
    )
    from workbench.planning.analysis.metrics import single_cuts as single_cuts
    from workbench.planning.analysis.metrics import turns as turns
    from workbench.planning.analysis.metrics import unheld as unheld
    from workbench.planning.analysis.rounding import Misfit as Misfit
    from workbench.planning.analysis.rounding import Overhang as Overhang
    from workbench.planning.analysis.rounding import misfits as misfits
    from workbench.planning.analysis.rounding import off_graduation as off_graduation
    from workbench.planning.analysis.rounding import overhangs as overhangs
    from workbench.planning.driver import check_project as check_project
    from workbench.planning.driver import fewest_sheets as fewest_sheets
    from workbench.planning.driver import first_plan as first_plan
    from workbench.planning.driver import make_plan as make_plan
    from workbench.planning.driver import survey as survey
    from workbench.planning.finishing import finishing_steps as finishing_steps
    from workbench.planning.finishing import opening_steps as opening_steps
    from workbench.planning.layouts.positions import worth_keeping as worth_keeping
    from workbench.planning.mixing.conflicts import check_mixing as check_mixing
    from workbench.planning.mixing.deal import deal as deal
    from workbench.planning.mixing.redeal import dealt_anew as dealt_anew
    from workbench.planning.mixing.redeal import fixed as fixed
    from workbench.planning.mixing.redeal import is_fixed as is_fixed
    from workbench.planning.mixing.redeal import left_over as left_over
    from workbench.planning.mixing.redeal import loosened as loosened
    from workbench.planning.mixing.redeal import papers_shown as papers_shown
    from workbench.planning.mixing.redeal import redealt as redealt
    from workbench.planning.mixing.redeal import repeats as repeats
    from workbench.planning.mixing.redeal import swapped as swapped
    from workbench.planning.mixing.redeal import swaps as swaps
    from workbench.planning.mixing.redeal import unused_papers as unused_papers
    from workbench.planning.mixing.use_counts import mixed_papers as mixed_papers
    from workbench.planning.paper_survey import Survey as Survey
    from workbench.planning.progress import Cancelled as Cancelled
    from workbench.planning.progress import PlanningError as PlanningError
    from workbench.planning.progress import Watch as Watch
    from workbench.planning.remnants import Edge as Edge
    from workbench.planning.remnants import Remnant as Remnant
    from workbench.planning.remnants import true_cuts as true_cuts
    from workbench.planning.replacement import MissingPiece as MissingPiece
    from workbench.planning.replacement import Replacement as Replacement
    from workbench.planning.replacement import cut_missing as cut_missing
    from workbench.planning.result import Assemble as Assemble
    from workbench.planning.result import Combination as Combination
    from workbench.planning.result import Cut as Cut
    from workbench.planning.result import Deal as Deal
    from workbench.planning.result import Fold as Fold
    from workbench.planning.result import Group as Group
    from workbench.planning.result import Mount as Mount
    from workbench.planning.result import Own as Own
    from workbench.planning.result import Part as Part
    from workbench.planning.result import PartId as PartId
    from workbench.planning.result import Plan as Plan
    from workbench.planning.result import Rectangle as Rectangle
    from workbench.planning.result import Role as Role
    from workbench.planning.result import Round as Round
    from workbench.planning.result import Score as Score
    from workbench.planning.result import Sheet as Sheet
    from workbench.planning.result import Shortage as Shortage
    from workbench.planning.result import Step as Step
    from workbench.planning.result import TableWork as TableWork
    from workbench.planning.result import Totals as Totals
    from workbench.planning.result import cut_alike as cut_alike
    from workbench.planning.result import rectangles as rectangles
    from workbench.planning.result import settings as settings
    from workbench.planning.result import table_work as table_work
    from workbench.planning.suggestions import Suggestion as Suggestion
    from workbench.planning.suggestions import find_suggestions as find_suggestions

_MODULES = {
    "alternatives": "WISHES Alternative Figures figures_of find_alternatives largest_kept "
    "plan_as_wished",
    "analysis.metrics": "settings_sheet_by_sheet single_cuts turns unheld",
    "analysis.rounding": "Misfit Overhang misfits off_graduation overhangs",
    "driver": "check_project fewest_sheets first_plan make_plan survey",
    "finishing": "finishing_steps opening_steps",
    "layouts.positions": "worth_keeping",
    "mixing.conflicts": "check_mixing",
    "mixing.deal": "deal",
    "mixing.redeal": "dealt_anew fixed is_fixed left_over loosened papers_shown redealt repeats "
    "swapped swaps unused_papers",
    "mixing.use_counts": "mixed_papers",
    "paper_survey": "Survey",
    "progress": "Cancelled PlanningError Watch",
    "remnants": "Edge Remnant true_cuts",
    "replacement": "MissingPiece Replacement cut_missing",
    "result": (
        "Assemble Combination Cut Deal Fold Group Mount Own Part PartId Plan Rectangle Role Round "
        "Score Sheet Shortage Step TableWork Totals cut_alike rectangles settings table_work"
    ),
    "suggestions": "Suggestion find_suggestions",
}
_HOMES = {name: module for module, names in _MODULES.items() for name in names.split()}
__all__ = sorted(_HOMES)  # noqa: PLE0605 - a list, told from what stands above

if not TYPE_CHECKING:

    def __getattr__(name: str) -> Any:
        """The public `name`, from the module that holds it. Raises AttributeError."""
        if name not in _HOMES:
            raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
        return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
