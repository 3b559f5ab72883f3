"""Whether the answer to a purchase plan's problem keeps every rule, found without the solver."""

from fitcheck.bom.ordering.problem import Answer, Problem, Want, cost


def faults(problem: Problem, answer: Answer) -> list[str]:
    """Return what is wrong with an answer: nothing if it keeps every rule. It counts, and does not cut."""
    found = []
    have = list(problem.held)
    for lot, count in zip(problem.lots, answer.packs, strict=True):
        have[lot.good] += lot.holds * count
    for taker, good, count in answer.flows:
        have[good] -= count
        if count < 0 or not any(good in group for group in problem.wants[taker].classes):
            found.append(f"want {taker} is given {count} of good {good}")
    found += [f"good {good} is given out {-left} times too often" for good, left in enumerate(have) if left < 0]
    for number, want in enumerate(problem.wants):
        got = {good: count for to, good, count in answer.flows if to == number}
        found += _lacks(number, want, got, answer)
    if cost(problem, answer.packs) is None:
        found.append("a seller does not take this order")
    return found


def _lacks(number: int, want: Want, got: dict[int, int], answer: Answer) -> list[str]:
    choice, short = answer.chosen[number], answer.short[number]
    if choice is None:
        return [] if short else [f"want {number} is not met, and nothing says so"]
    amounts = [sum(got.get(good, 0) for good in group) for group in want.classes]
    needed = [count - (short if want.counted else 0) for count in want.choices[choice]]
    if any(amount < count for amount, count in zip(amounts, needed, strict=True)):
        return [f"want {number} gets {amounts} of {needed}"]
    return []
