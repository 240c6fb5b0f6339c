"""Every seed of the fuzzer, and everything that it ever found, is a test like any other."""

import random

import pytest
from targets import TARGETS, seeds
from trees import mutated

CASES = [(target, seed) for target in TARGETS for seed in seeds(target)]


@pytest.mark.parametrize(("target", "seed"), CASES, ids=[f"{target} {n}" for n, (target, _) in enumerate(CASES)])
def test_nothing_comes_out_but_an_answer_or_a_refusal(target, seed):
    TARGETS[target](seed)


def test_the_fuzzer_changes_requests_into_other_requests():
    rng = random.Random(5)
    [seed, *others] = seeds("requests")
    changed = {mutated(seed, others, rng) for _ in range(50)}
    assert len(changed) > 40
    for each in changed:
        TARGETS["requests"](each)
