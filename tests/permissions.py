"""Processes that permissions bind, as they bind everybody but root."""

import os
import shutil

import pytest


def bound() -> tuple[str, ...]:
    """What to put before a command so that a folder made read-only is read-only to it.

    Root without these two capabilities obeys the permission bits: capabilities(7).
    """
    if os.geteuid():
        return ()
    setpriv = shutil.which("setpriv")
    if setpriv is None:
        pytest.skip("root obeys no permissions here: setpriv (util-linux) is missing")
    return (setpriv, "--bounding-set=-dac_override,-dac_read_search")
