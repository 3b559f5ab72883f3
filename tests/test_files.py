"""Files in memory, and a folder that nothing leads out of."""

import os
from pathlib import Path

import pytest

from fitcheck.build.load import load, load_document
from fitcheck.files import SUFFIXES, Fence, Held, Texts, plain_name
from fitcheck.sources import InputError, read

DEMO = Path(__file__).parents[1] / "demo_vehicle"


@pytest.mark.parametrize(
    ("path", "plain"),
    [
        ("a.yaml", "a.yaml"),
        ("b/../a.yaml", "a.yaml"),
        ("./b//a.yaml", "b/a.yaml"),
        ("../a.yaml", None),
        ("b/../../a.yaml", None),
        ("/etc/passwd", None),
        ("C:/a.yaml", None),
        ("b\\a.yaml", None),
        ("a\0b", None),
        ("", None),
        (".", None),
    ],
)
def test_plain_names(path: str, plain: str | None) -> None:
    """A path is made plain, or names nothing if it climbs out or is another system's."""
    assert plain_name(path) == plain


def test_build_in_memory() -> None:
    """A build read from memory, CSV and all, is the build read from the disk."""
    keeper = Texts({path.name: path.read_bytes() for path in DEMO.iterdir()})
    held, disk = Held(keeper, "build.yaml"), load(DEMO)
    build = load_document(read(held), held.parent)
    assert build.file == disk.file
    assert build.shelf.ids() == disk.shelf.ids()
    assert build.offers().offers == disk.offers().offers
    assert build.stock().parts == disk.stock().parts


def test_csv_in_memory() -> None:
    """Stock as CSV with Windows line ends and a byte order mark is read from memory as from the disk."""
    keeper = Texts({"stock.csv": "\ufeffpart;quantity\r\ntee-3-16-inverted;2\r\n".encode()})
    document = read(Held(Texts({"b": b"build: 1\nstock: stock.csv\n"}, keeper), "b"))
    build = load_document(document, Held(keeper))
    assert build.stock().quantity("tee-3-16-inverted") == 2


@pytest.mark.parametrize("name", ["/etc/passwd", "../../../../../../etc/passwd", "..", "passwd", "a\\b"])
def test_memory_knows_no_disk(name: str) -> None:
    """Whatever a build in memory names, only what is in memory is there."""
    keeper = Texts({"b.yaml": f"build: 1\ncatalogs: ['{name}']\n".encode()})
    held = Held(keeper, "b.yaml")
    with pytest.raises(InputError) as caught:
        load_document(read(held), held.parent)
    assert [(each.line, each.message) for each in caught.value.problems] == [(2, f"there is no file {name}")]


def test_texts_over_a_folder(tmp_path: Path) -> None:
    """A text in memory stands in for the file beneath it; the others are those of the folder."""
    (tmp_path / "a.yaml").write_text("old")
    (tmp_path / "b.yaml").write_text("beside")
    keeper = Texts({"a.yaml": b"new"}, Fence(tmp_path))
    assert (keeper.read("a.yaml", 9), keeper.read("b.yaml", 3), keeper.size("c.yaml")) == (b"new", b"bes", None)


def test_fence_holds(tmp_path: Path) -> None:
    """Links, climbing, absolute paths, folders and pipes lead nowhere; links inside of the folder lead on."""
    (tmp_path / "out.yaml").write_text("secret")
    inside = tmp_path / "in"
    inside.mkdir()
    (inside / "a.yaml").write_text("here")
    (inside / "same.yaml").symlink_to("a.yaml")
    (inside / "link.yaml").symlink_to(tmp_path / "out.yaml")
    (inside / "up").symlink_to(tmp_path)
    os.mkfifo(inside / "pipe.yaml")
    fence = Fence(inside)
    assert fence.read("same.yaml", 10) == b"here"
    for name in ("link.yaml", "up/out.yaml", "../out.yaml", str(tmp_path / "out.yaml"), "pipe.yaml", ".", "none.yaml"):
        assert fence.size(name) is None, name
        with pytest.raises(OSError, match=r".*"):
            fence.read(name, 10)


def test_fence_shows_users_files_only(tmp_path: Path) -> None:
    """With suffixes, other files and hidden ones are not there."""
    for name in ("a.yaml", "b.CSV", "c.txt", ".d.yaml"):
        (tmp_path / name).write_text("x")
    fence = Fence(tmp_path, SUFFIXES)
    shown = sorted(path.name for path in tmp_path.iterdir() if fence.size(path.name) is not None)
    assert shown == ["a.yaml", "b.CSV"]
