"""What phones calculate by themselves."""

from pathlib import Path

import companion
from companion.on_phone.runtime import FOLDER

RUNTIME = Path(companion.__file__).parents[1] / "node_modules" / ".phone" / FOLDER
"""Where tests/run fetches the Python for browsers to."""
NOT_HERE = "the Python for browsers is not here; tests/run fetches it where there is npm"
