"""How long the properties look: briefly, or long.

Both look at the same builds every time, so that a change is judged and not the luck of a draw. To search on, set
FITCHECK_RANDOM=1: the long run then takes new builds each time, and prints what reproduces a failure.
"""

import os

from hypothesis import HealthCheck, Phase, settings

_LARGE = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much, HealthCheck.large_base_example]

settings.register_profile(
    "brief",
    derandomize=True,
    database=None,
    deadline=None,
    max_examples=60,
    phases=[Phase.explicit, Phase.generate],  # a build is small enough to read as drawn; shrinking takes minutes
    suppress_health_check=_LARGE,
)
settings.register_profile(
    "long",
    derandomize="FITCHECK_RANDOM" not in os.environ,
    database=None,
    deadline=None,
    max_examples=1000,
    phases=[Phase.explicit, Phase.generate] if "FITCHECK_RANDOM" not in os.environ else list(Phase),
    print_blob=True,
    suppress_health_check=_LARGE,
)
