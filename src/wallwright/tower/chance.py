"""What a sample of measured flats tells of those nobody measured, and what it does not: exact, and for a sample taken by lot.

* How many of a lot are bad, x of n looked at being so: the largest number for which so few in the sample would still be seen
  with a chance of 1 - confidence or more; the sample is drawn without putting back, so by the hypergeometric distribution. It is the
  exact limit of C. J. Clopper and E. S. Pearson, "The use of confidence or fiducial limits illustrated in the case of the
  binomial", Biometrika 26 (1934) 404-413, for a lot that has an end; for a very large one the two are the same.
* Between which sizes the others lie: S. S. Wilks, "Determination of sample sizes for setting tolerance limits", Annals of
  Mathematical Statistics 12 (1941) 91-96: the share of a population between the smallest and the largest of n exceeds p with
  a chance of 1 - n p^(n-1) + (n-1) p^n, whatever the sizes' distribution (from memory).
"""

from __future__ import annotations

from math import comb


def most_bad(lot: int, looked_at: int, bad: int, confidence: float) -> int:
    """How many of a lot may be bad at most, with that confidence, where `bad` of `looked_at` drawn by lot were.

    ValueError where the numbers do not go together.
    """
    if not 0 <= bad <= looked_at <= lot or not 0.0 < confidence < 1.0:
        msg = f"{bad} bad of {looked_at} looked at, of {lot}, at a confidence of {confidence}: no such sample"
        raise ValueError(msg)
    if looked_at == lot:
        return bad
    low, high = bad, lot - (looked_at - bad)  # the good ones that were seen are good
    while low < high:  # the chance of so few falls as the lot has more: halve the interval
        middle = (low + high + 1) // 2
        if chance_of_so_few(lot, middle, looked_at, bad) > 1.0 - confidence:
            low = middle
        else:
            high = middle - 1
    return low


def chance_of_so_few(lot: int, bad_in_lot: int, looked_at: int, seen: int) -> float:
    """The chance that a sample drawn without putting back has `seen` bad ones or fewer (hypergeometric)."""
    ways = comb(lot, looked_at)
    few = sum(
        comb(bad_in_lot, k) * comb(lot - bad_in_lot, looked_at - k)
        for k in range(max(0, looked_at - (lot - bad_in_lot)), min(seen, bad_in_lot) + 1)
    )
    return few / ways


def share_covered(n: int, confidence: float) -> float:
    """The share of all flats that lies between the smallest and the largest of n measured by lot, with that confidence [0..1].

    0 for fewer than two.
    """
    if n < 2:
        return 0.0
    low, high = 0.0, 1.0
    for _ in range(60):
        p = (low + high) / 2
        if 1.0 - n * p ** (n - 1) + (n - 1) * p**n >= confidence:
            low = p
        else:
            high = p
    return low


def sample_for(share: float, confidence: float) -> int:
    """How many to measure by lot so that with that confidence the share lies between their smallest and largest."""
    n = 2
    while share_covered(n, confidence) < share:
        n += 1
    return n
