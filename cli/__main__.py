"""Run trueup as a module: `python -m trueup.cli`."""

import sys

from trueup.cli.main import main

sys.exit(main())
