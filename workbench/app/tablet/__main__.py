"""The app as the server starts it, once for every browser that opens the page."""

import os
import sys
from pathlib import Path


def main() -> None:
    # Textual reads it when it is first imported.
    os.environ["TEXTUAL_DRIVER"] = "workbench.app.tablet.driver:PageDriver"
    from workbench.app.app import run

    sys.exit(run(Path(sys.argv[1]) if len(sys.argv) > 1 else None))


if __name__ == "__main__":
    main()
