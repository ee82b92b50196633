"""The server as it is installed, but with the page of another release.

Started as `python -m tests.upgrades.served PAGE serve --data FOLDER --port N`.
"""

import sys
from functools import partial
from pathlib import Path

from skinpin import app
from skinpin.cli import main

if __name__ == "__main__":
    app.build_server = partial(app.build_server, static=Path(sys.argv[1]))
    main(sys.argv[2:])
