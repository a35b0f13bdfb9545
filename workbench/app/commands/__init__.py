"""Every command of the app, said once: keys, footer, palette, help and key list read it here.

`command` says what a command is; each other module has those of one screen. All of them are to
be had from here, by their names alone.
"""

# ruff: noqa: F403

from workbench.app.commands.batches import *
from workbench.app.commands.bench import *
from workbench.app.commands.combinations import *
from workbench.app.commands.command import *
from workbench.app.commands.drawer import *
from workbench.app.commands.everywhere import *
from workbench.app.commands.forms import *
from workbench.app.commands.guide import *
from workbench.app.commands.pages import *
from workbench.app.commands.pieces import *
from workbench.app.commands.start import *
from workbench.app.commands.stock import *
from workbench.app.commands.trimming import *
