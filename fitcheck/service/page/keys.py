"""One key for all that a build is made from: the same key, the same build."""

from collections.abc import Mapping
from hashlib import sha256


def key_of(hashes: Mapping[str, str]) -> str:
    """Return the key of a build by the SHA-256 of each of its files, by their names."""
    whole = sha256()
    for name in sorted(hashes):
        whole.update(f"{len(name)}:{name}:{hashes[name]};".encode())
    return whole.hexdigest()
