"""What the maker's workshop has to say to a command: settings, pace, posts, free paper."""

import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from workbench.craft.pace import Pace
    from workbench.craft.project import Project
    from workbench.post import Desk
    from workbench.store.preferences import Preferences


def with_free_stock(project: "Project") -> "Project":
    """The project with what is free now of the papers that it took from the maker's drawer."""
    from workbench.store.database import Workshop
    from workbench.store.drawer import Drawer
    from workbench.store.drawer_projects import fresh_stock

    workshop = Workshop.open()
    if not (workshop.exists and any(paper.stock for paper in project.papers)):
        return project
    return fresh_stock(Drawer(workshop), project)


def own_preferences(instead: str = "Planned for a common trimmer instead.") -> "Preferences":
    """The maker's own settings, without making a workshop only to look for them.

    Where the workshop cannot be used, that is said, and what is done `instead`.
    """
    from workbench.store.database import Workshop
    from workbench.store.errors import StoreError, visible
    from workbench.store.preferences import Preferences, preferences_of

    try:
        return preferences_of(Workshop.open())
    except StoreError as error:
        print(visible(f"{error}. {instead}"), file=sys.stderr)
        return Preferences()


def own_pace(preferences: "Preferences") -> "Pace":
    """The maker's own pace; estimates where the workshop cannot be used, which was said then."""
    from workbench.craft.pace import ESTIMATED
    from workbench.store.database import Workshop
    from workbench.store.errors import StoreError
    from workbench.store.own_pace import pace_of

    try:
        return pace_of(Workshop.open(), preferences)
    except StoreError:
        return ESTIMATED


def own_desk(preferences: "Preferences") -> "Desk":
    """The posts and envelopes of the workshop, those built in where its own cannot be read."""
    from workbench.post import Desk
    from workbench.store.database import Workshop
    from workbench.store.errors import StoreError, visible
    from workbench.store.post_desk import desk_of

    try:
        return desk_of(Workshop.open(), preferences)
    except StoreError as error:
        print(visible(f"{error}. Only the built-in rules are used."), file=sys.stderr)
        return Desk(to=preferences.post, clearance=preferences.clearance)
