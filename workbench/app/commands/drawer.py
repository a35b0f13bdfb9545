"""The paper drawer, what can be made of it, and what was made."""

from workbench.app.commands.command import DRAWER, MADE, POSSIBLE, START, Command


class ShowDrawer(Command):
    """Show the paper drawer: every paper and offcut you own, whichever project uses it."""

    keys, label, group = ("d",), "Drawer", START


class SearchStock(Command):
    """Search as you type: name, kind, print, pad, place, tags, note, or the word offcut."""

    keys, label, group = ("s",), "Search", DRAWER


class AddStock(Command):
    """Put a paper in the drawer."""

    keys, label, group = ("a",), "Add", DRAWER


class ChangeStock(Command):
    """Describe the paper at hand anew; its counts stay."""

    keys, label, group, footer = ("c", "enter"), "Change", DRAWER, False


class ChooseStock(Command):
    """Take the paper at hand into the project, its offcuts with it."""

    keys, label, group = ("enter",), "Take it", DRAWER


class CopyStock(Command):
    """Put a paper in that is like the one at hand."""

    keys, label, group, footer = ("d",), "Copy", DRAWER, False


class CountStock(Command):
    """Say how many free sheets, or offcuts, of the one at hand there really are."""

    keys, label, group, footer = ("n",), "Count", DRAWER, False


class AddStockOffcut(Command):
    """Put offcuts of the paper at hand in the drawer."""

    keys, label, group, footer = ("f",), "Add offcut", DRAWER, False


class SplitPad(Command):
    """Split the pad at hand into papers of their own, by their names."""

    keys, label, group, footer = ("p",), "Split a pad", DRAWER, False


class MergeStock(Command):
    """Make one of the paper at hand and all others that are described alike."""

    keys, label, group, footer = ("m",), "Merge alike", DRAWER, False


class RemoveStock(Command):
    """Take the paper at hand out of the drawer, or throw the offcuts at hand away."""

    keys, label, group, footer = ("x",), "Remove", DRAWER, False


class SortStock(Command):
    """Sort by name, by how many are free, by place, by kind, or those with offcuts first."""

    keys, label, group, footer = ("o",), "Sort", DRAWER, False


class UndoStock(Command):
    """Take back the last change of the drawer made by hand."""

    keys, label, group, footer = ("z",), "Undo", DRAWER, False


class ShowUses(Command):
    """Say where the paper or offcut at hand came from, and where it could go."""

    keys, label, group, footer = ("i",), "Uses", DRAWER, False


class ShowPossible(Command):
    """Say for every project in a folder how many cards the drawer makes now."""

    keys, label, group = ("w",), "Make?", DRAWER


class ShowMade(Command):
    """Show what was made, and a year in figures."""

    keys, label, group = ("y",), "Made", DRAWER


class SetReckoning(Command):
    """Set the currency, your hour, margin and extras, and the smallest offcut worth keeping."""

    keys, label, group, footer = ("g",), "Costs", DRAWER, False


class ClearOut(Command):
    """List the offcuts too small or too old to keep, and throw them away."""

    keys, label, group, footer = ("l",), "Clear out", DRAWER, False


class TakeInFile(Command):
    """Take in a CSV or TOML file, after you have seen what becomes of each row."""

    keys, label, group, footer = ("t",), "Take in a file", DRAWER, False


class WriteStock(Command):
    """Write all that is free to a CSV or TOML file."""

    keys, label, group, footer = ("e",), "Write to a file", DRAWER, False


class BackUp(Command):
    """Copy the whole workshop, batches and settings too, to one file."""

    keys, label, group, footer = ("b",), "Back up", DRAWER, False


class Restore(Command):
    """Put a backup in the place of the workshop; what is there now is moved aside."""

    keys, label, group, footer = ("r",), "Restore", DRAWER, False


class MarkProject(Command):
    """Put the project at hand on the shopping list, or take it off."""

    keys, label, group = ("space",), "Mark", POSSIBLE


class ShowShopping(Command):
    """List what to buy to make all marked projects together, or all where none is marked."""

    keys, label, group = ("l",), "Shopping list", POSSIBLE


class ChooseFolder(Command):
    """Look at the projects of another folder."""

    keys, label, group = ("o",), "Folder", POSSIBLE


class YearBefore(Command):
    """Show the year before."""

    keys, label, group = ("left",), "Year before", MADE


class NextYear(Command):
    """Show the next year."""

    keys, label, group = ("right",), "Next year", MADE


class MakeAgain(Command):
    """Make the batch at hand again, as a new project that may have other papers."""

    keys, label, group = ("m",), "Make again", MADE


class GiveCard(Command):
    """Note who got which card of the batch at hand."""

    keys, label, group = ("g",), "Who got it", MADE
