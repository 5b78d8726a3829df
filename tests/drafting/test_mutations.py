"""Valid recipes with slips in them: whatever the slip, there is a draft or a sentence."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from notchbook.drafting.engine import draft
from notchbook.drafting.truing import check
from notchbook.gathering.source import Source
from notchbook.problems import ContentError
from notchbook.reading.read import read_recipe
from tests.drafting.mutations import mutated, samples

SAMPLES = samples()


def outcome(text: str) -> str:
    """How far a recipe gets: ``drafted``, or ``refused`` with sentences."""
    try:
        recipe = read_recipe(Source("slip", "slip", {"recipe.md": text.encode()}))
        made = draft(recipe, recipe.sizes[0])
    except ContentError as error:
        assert error.problems
        for problem in error.problems:
            assert problem.what.endswith((".", ")"))
            assert problem.remedy.endswith((".", "?", "”", ")"))
            assert not any(word in problem.what for word in ("nan", "inf ", "None"))
        return "refused"
    for problem, _ in check(made):
        assert problem.what.endswith((".", ")"))
    return "drafted"


@given(st.sampled_from(SAMPLES), st.integers(0, 2**32))
@settings(max_examples=60)
def test_a_slip_gives_a_draft_or_a_sentence(text: str, seed: int) -> None:
    outcome(mutated(text, seed))


def test_half_of_the_slips_get_as_far_as_a_draft() -> None:
    """Otherwise they would try reading alone."""
    small = SAMPLES[:4]
    found = [outcome(mutated(small[k % 4], k)) for k in range(60)]
    share = found.count("drafted") / len(found)
    print(f"{share:.0%} of {len(found)} recipes with slips were drafted")
    assert share >= 0.5
