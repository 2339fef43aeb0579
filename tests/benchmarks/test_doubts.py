"""A small, fixed share of what `python -m tests.benchmarks.doubts` plays: told doubts cover the truth."""

from tests.benchmarks.doubts import CLAIMED, covered, played


def test_told_doubts_cover_the_truth_about_as_often_as_they_claim():
    """20 developments of one seed: 19 of them; four standard deviations of that many are 20 per cent."""
    came = played(20, seed=11)
    for shares in ([one.due for one in came], [one.equivalent for one in came]):
        assert covered(shares) >= CLAIMED - 0.20
        # neither are they so wide that they claim nothing: half of all lie beyond a fifth of the doubt
        assert sorted(shares)[10] > 0.2
