"""How Hypothesis runs here: the same examples each time, no time limit for one, its files out of sight.

`HYPOTHESIS_PROFILE=thorough` tries many more, and others each time.
"""

import os

from hypothesis import settings
from hypothesis.configuration import set_hypothesis_home_dir

set_hypothesis_home_dir(".cache/hypothesis")
settings.register_profile("project", deadline=None, derandomize=True, max_examples=25)
settings.register_profile("thorough", deadline=None, max_examples=500)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "project"))
