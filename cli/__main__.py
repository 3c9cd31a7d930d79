"""Run trueup as a module: `python -m cli`."""

import sys

from cli.main import main

sys.exit(main())
