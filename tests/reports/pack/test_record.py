"""The revision of a pack: a hash over names and contents of all files."""

from datetime import date
from hashlib import sha256

from fitcheck.reports.pack.record import revision

DAY = date(2026, 12, 1)
FILES = [("build.yaml", b"build: 1\n"), ("parts.yaml", b"catalog: 1\n")]


def test_each_file_has_its_own_hash() -> None:
    """A stamp is the beginning of the SHA-256 of what is in the file."""
    made = revision(FILES, DAY)
    assert [(stamp.name, stamp.sha256) for stamp in made.files] == [
        (name, sha256(content).hexdigest()) for name, content in FILES
    ]
    assert made.files[0].short == sha256(b"build: 1\n").hexdigest()[:12]


def test_any_change_gives_another_revision() -> None:
    """Contents, names, order and variant each change the hash; the day does not."""
    changed = [("build.yaml", b"build: 1\n"), ("parts.yaml", b"catalog: 1")]
    renamed = [("build.yaml", b"build: 1\n"), ("part.yaml", b"catalog: 1\n")]
    made = [
        revision(FILES, DAY),
        revision(changed, DAY),
        revision(renamed, DAY),
        revision(FILES[::-1], DAY),
        revision(FILES, DAY, "as_corrected"),
        revision(FILES, DAY, ""),
    ]
    assert len({each.hash for each in made}) == len(made)
    assert revision(FILES, date(2027, 1, 1)).hash == made[0].hash


def test_the_line_of_every_page() -> None:
    """The revision line has hash, variant and day."""
    plain, other = revision(FILES, DAY), revision(FILES, DAY, "blue")
    assert plain.words == f"revision {plain.hash}, 2026-12-01"
    assert other.words == f"revision {other.hash}, variant blue, 2026-12-01"
