"""Run by a test: batches drawing on the drawer without end, each deed told once it is kept."""

import random
import sys
from itertools import count
from pathlib import Path

from tests.store.drawing import act
from workbench.store.database import Workshop

DEEDS = ("begin", "tick", "tick", "tick through", "tick through", "take back", "slip", "abandon")

workshop, chance = Workshop.open(Path(sys.argv[1])), random.Random(int(sys.argv[2]))
for number in count(1):
    # The drawer is filled again in time, so that there is always something to draw.
    what = "buy" if number % 5 == 0 else chance.choice(DEEDS)
    act(workshop, what, chance.randrange(1000), chance.randrange(100))
    print(number, flush=True)
