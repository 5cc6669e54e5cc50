"""How property tests run on a mutant: the same examples each time, and the first that fails is enough."""

from hypothesis import Phase, settings

settings.register_profile(
    "mutants", deadline=None, derandomize=True, database=None, phases=(Phase.explicit, Phase.generate)
)
