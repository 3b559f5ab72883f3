"""How long the properties look: briefly and always at the same builds, or long and at new ones each time."""

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
settings.register_profile("long", deadline=None, max_examples=1000, print_blob=True, suppress_health_check=_LARGE)
