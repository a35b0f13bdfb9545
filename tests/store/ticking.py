"""Run by a test: tick steps of a batch without end, saying each number once it is kept."""

import sys
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

from workbench.making.events import Event
from workbench.store.database import Workshop

workshop, batch_id = Workshop.open(Path(sys.argv[1])), int(sys.argv[2])
for seq in count(len(workshop.events(batch_id)) + 1):
    print(workshop.append(batch_id, Event("ticked", seq, datetime.now(UTC)), seq), flush=True)
