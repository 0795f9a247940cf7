"""How Hypothesis runs here: the same examples each time, no time limit for one, its files out of sight."""

from hypothesis import settings
from hypothesis.configuration import set_hypothesis_home_dir

set_hypothesis_home_dir(".cache/hypothesis")
settings.register_profile("project", deadline=None, derandomize=True, max_examples=60)
settings.load_profile("project")
