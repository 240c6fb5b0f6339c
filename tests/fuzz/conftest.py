"""The fuzzer is run as a script as well, so its parts are found beside it."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
