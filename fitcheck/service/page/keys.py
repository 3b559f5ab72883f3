"""One key for all that a build is made from: the same key, the same build. And names that findings keep."""

from collections import Counter
from collections.abc import Mapping, Sequence
from hashlib import sha256
from typing import Final

from fitcheck.checks.findings import Finding

MARK: Final = 12
"""Digits of a key that stand in addresses: which state of the build a link is of."""


def key_of(hashes: Mapping[str, str]) -> str:
    """Return the key of a build by the SHA-256 of each of its files, by their names."""
    whole = sha256()
    for name in sorted(hashes):
        whole.update(f"{len(name)}:{name}:{hashes[name]};".encode())
    return whole.hexdigest()


def names_of(findings: Sequence[Finding]) -> tuple[str, ...]:
    """Return what tells each finding from the others: its rule and a hash of what it speaks of.

    It stays what it is while the file is changed elsewhere, which a number does not. Several findings of one rule on
    one thing are counted.
    """
    seen: Counter[str] = Counter()
    names = []
    for finding in findings:
        subject = sha256("\0".join(finding.at).encode()).hexdigest()[:MARK]
        name = f"{finding.rule} {subject}"
        seen[name] += 1
        names.append(name if seen[name] == 1 else f"{name} {seen[name]}")
    return tuple(names)
