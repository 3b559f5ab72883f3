"""Orders placed and parcels arrived, written into the stock file: nothing else in it changes, nothing is lost."""

import os
from datetime import date
from pathlib import Path

import pytest

from fitcheck.catalog.stock import Coming
from fitcheck.catalog.stock_edit import ArrivalError, arrived, place
from fitcheck.catalog.stock_file import read_stock
from fitcheck.sources import InputError

DAY, LATER = date(2026, 11, 27), date(2026, 12, 1)
YAML = """\
# the grey cupboard
stock: 1
shelf:   # tins
  - {part: nut, quantity: 4}   # left tin
  - part: tube
    lengths: [900 mm, 1.2 m]   # ends
  # below: opened
  - {part: fluid, contents: 250 mL, note: 'not: for the car'}
note: mine
"""
COMING = """\
coming:
  # by post
  - {part: tee, quantity: 5, supplier: north, number: T-1}   # brass
  - {part: nut, supplier: south}
  - {part: tube, lengths: [25 ft, 25 ft, 25 ft], supplier: south, note: soft}
  - {part: nut, quantity: 2, supplier: north, number: N=2}
"""
CSV = "Part;Quantity;Note\r\nnut;4;left tin\r\n\r\ntube;;\r\n;;\r\n"
ENTRIES = [
    Coming("nut", 10, supplier="north", number="N-3", ordered=DAY, due=LATER),
    Coming("tube", 0, lengths=(7620.0,), supplier="south", note="soft; new"),
    Coming("fluid", 0, contents=500_000.0),
    Coming("tee", 1),
    Coming("tee", 1),
]


def write(folder: Path, text: str | bytes, name: str = "stock.yaml") -> Path:
    """Write a stock file and return where it is."""
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def text(path: Path) -> str:
    """Return the text of a file, line ends as they are."""
    return path.read_bytes().decode()


def edited(start: str, *parts: tuple[str, str]) -> str:
    """Return a text with each first part, which stands in it once, replaced by the second."""
    for old, new in parts:
        assert start.count(old) == 1
        start = start.replace(old, new)
    return start


def test_orders_are_added_as_users_write(tmp_path: Path) -> None:
    """Entries go to a section of their own below all else, quantities with units, equal ones each by itself."""
    path = write(tmp_path, YAML)
    place(path, ENTRIES)
    added = (
        "coming:\n"
        "  - {part: nut, quantity: 10, supplier: north, number: N-3, ordered: 2026-11-27, due: 2026-12-01}\n"
        "  - {part: tube, lengths: [7620 mm], supplier: south, note: soft; new}\n"
        "  - {part: fluid, contents: 500 mL}\n"
        "  - {part: tee, quantity: 1}\n"
        "  - {part: tee, quantity: 1}\n"
    )
    assert text(path) == YAML + added
    assert read_stock(path).coming == tuple(ENTRIES)


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
def test_orders_follow_what_is_coming_already(tmp_path: Path, newline: str) -> None:
    """An order goes to the end of the section that is there, in the file's line ends, whatever stands below it."""
    below = "# the end\nnote: mine\n"
    start = (YAML.replace("note: mine\n", COMING) + below).replace("\n", newline)
    path = write(tmp_path, "\ufeff" + start)
    place(path, ENTRIES[:1])
    line = f"  - {{part: nut, quantity: 10, supplier: north, number: N-3, ordered: {DAY}, due: {LATER}}}"
    last = "  - {part: nut, quantity: 2, supplier: north, number: N=2}"
    assert text(path) == "\ufeff" + edited(start, (last, f"{last}{newline}{line}"))


def test_no_order_changes_nothing(tmp_path: Path) -> None:
    """Without entries the file is not even read."""
    place(tmp_path / "none.yaml", [])
    assert list(tmp_path.iterdir()) == []


def test_all_that_was_coming_arrives(tmp_path: Path) -> None:
    """Without words everything goes to the shelf, with whom it came from, the day, and its own note."""
    path = write(tmp_path, YAML + COMING)
    before = read_stock(path).coming
    assert arrived(path, [], LATER) == before
    shelf = (
        '  - {part: tee, quantity: 5, note: "from north, arrived 2026-12-01"}\n'
        '  - {part: nut, quantity: 1, note: "from south, arrived 2026-12-01"}\n'
        '  - {part: tube, lengths: [25 ft, 25 ft, 25 ft], note: "from south, arrived 2026-12-01; soft"}\n'
        '  - {part: nut, quantity: 2, note: "from north, arrived 2026-12-01"}\n'
        "note: mine\n"
    )
    assert text(path) == edited(YAML, ("note: mine\n", shelf)) + "coming: []\n  # by post\n"
    assert arrived(path, [], LATER) == ()
    place(path, ENTRIES[-1:])
    assert read_stock(path).coming == tuple(ENTRIES[-1:])


@pytest.mark.parametrize(
    ("who", "moved"),
    [
        (["north"], [("tee", 5), ("nut", 2)]),
        (["nut"], [("nut", 1), ("nut", 2)]),
        (["T-1"], [("tee", 5)]),
        (["N=2"], [("nut", 2)]),
        (["south", "tee"], [("tee", 5), ("nut", 1), ("tube", 0)]),
        (["tee", "T-1", "tee"], [("tee", 5)]),
    ],
)
def test_words_say_what_arrived(tmp_path: Path, who: list[str], moved: list[tuple[str, int]]) -> None:
    """A supplier, a part or a number names all its entries, in the order of the file; the rest stays coming."""
    path = write(tmp_path, YAML + COMING)
    before = read_stock(path)
    found = arrived(path, who, LATER)
    assert [(entry.part, entry.quantity) for entry in found] == moved
    after = read_stock(path)
    assert sorted((*found, *after.coming)) == sorted(before.coming)
    assert [entry[:4] for entry in after.entries] == [entry[:4] for entry in (*before.entries, *found)]
    assert text(path).startswith(YAML.removesuffix("note: mine\n"))


def test_some_pieces_arrive(tmp_path: Path) -> None:
    """`PART=3` takes three pieces, across entries in their order; what is left stays as it was but for its number."""
    path = write(tmp_path, YAML + COMING)
    found = arrived(path, ["tee=2", "tube=1", "nut=2"], LATER)
    assert [(entry.part, entry.quantity, len(entry.lengths)) for entry in found] == [
        ("tee", 2, 0),
        ("nut", 1, 0),
        ("tube", 0, 1),
        ("nut", 1, 0),
    ]
    shelf = (
        '  - {part: tee, quantity: 2, note: "from north, arrived 2026-12-01"}\n'
        '  - {part: nut, quantity: 1, note: "from south, arrived 2026-12-01"}\n'
        '  - {part: tube, lengths: [25 ft], note: "from south, arrived 2026-12-01; soft"}\n'
        '  - {part: nut, quantity: 1, note: "from north, arrived 2026-12-01"}\n'
        "note: mine\n"
    )
    left = edited(
        COMING,
        ("quantity: 5", "quantity: 3"),
        ("  - {part: nut, supplier: south}\n", ""),
        ("[25 ft, 25 ft, 25 ft]", "[25 ft, 25 ft]"),
        ("quantity: 2", "quantity: 1"),
    )
    assert text(path) == edited(YAML, ("note: mine\n", shelf)) + left


BLOCK = """\
stock: 1
coming:
- part: nut      # brass
  quantity: 10   # ten
  supplier: north

- part: tube
  lengths:
    - 25 ft
    - 25 ft   # second
    - 25 ft
# end
"""


def test_entries_on_lines_of_their_own_stay_so(tmp_path: Path) -> None:
    """Only the number of what is left changes; comments, blank lines and the list's own lines stay."""
    path = write(tmp_path, BLOCK)
    arrived(path, ["nut=3", "tube=1"], LATER)
    shelf = (
        "shelf:\n"
        '- {part: nut, quantity: 3, note: "from north, arrived 2026-12-01"}\n'
        "- {part: tube, lengths: [25 ft], note: arrived 2026-12-01}\n"
        "# end\n"
    )
    assert text(path) == edited(BLOCK, (": 10 ", ": 7 "), ("# second\n    - 25 ft\n", "# second\n"), ("# end\n", shelf))


def test_pieces_add_up_over_words(tmp_path: Path) -> None:
    """Two words may take pieces of one entry, by part and by number; together all of it is gone."""
    path = write(tmp_path, YAML + COMING)
    assert arrived(path, ["tee=2", "T-1=3"], LATER)[0].quantity == 5
    assert [entry.part for entry in read_stock(path).coming] == ["nut", "tube", "nut"]


ALL = "5 tee from north, 1 nut from south, 25 ft + 25 ft + 25 ft tube from south, 2 nut from north"


@pytest.mark.parametrize(
    ("who", "said"),
    [
        (
            ["nort"],
            f"nothing that is coming has the supplier, part or number 'nort'; nearest is 'north'; coming: {ALL}",
        ),
        (["te=3"], f"nothing that is coming has the supplier, part or number 'te=3'; nearest is 'tee'; coming: {ALL}"),
        (["north=3"], "pieces are counted of a part or number, and 'north' is a supplier"),
        (["xyzzy"], f"nothing that is coming has the supplier, part or number 'xyzzy'; coming: {ALL}"),
        (["tee=6"], "6 of tee cannot have arrived: 5 are coming"),
        (["T-1=6"], "6 of T-1 cannot have arrived: 5 are coming"),
        (["nut=4"], "4 of nut cannot have arrived: 3 are coming"),
        (["tube=4"], "4 of tube cannot have arrived: 3 are coming"),
        (["tee=3", "tee=3"], "3 of tee cannot have arrived: 2 are coming"),
        (["south", "nut=3"], "3 of nut cannot have arrived: 2 are coming"),
        (["nut=2", "nut"], "2 of nut cannot have arrived: 0 are coming"),
        (["tee=0"], "expected a whole number of pieces from 1 to 9999, got '0' for tee"),
        (["tee="], "expected a whole number of pieces from 1 to 9999, got '' for tee"),
        (["tee=1.5"], "expected a whole number of pieces from 1 to 9999, got '1.5' for tee"),
    ],
)
def test_what_is_not_coming_cannot_arrive(tmp_path: Path, who: list[str], said: str) -> None:
    """A word that names nothing, or more than is coming, is refused whole, and the file stays as it was."""
    path = write(tmp_path, YAML + COMING)
    with pytest.raises(ArrivalError) as caught:
        arrived(path, who, LATER)
    assert str(caught.value) == said
    assert caught.value.word in who
    assert text(path) == YAML + COMING


def test_nothing_is_coming(tmp_path: Path) -> None:
    """Where nothing is coming a word is refused, and no word is no error."""
    path = write(tmp_path, YAML)
    with pytest.raises(ArrivalError) as caught:
        arrived(path, ["nut"], LATER)
    assert str(caught.value) == "'nut' cannot have arrived: nothing is coming"
    assert arrived(path, [], LATER) == ()
    assert text(path) == YAML


def test_what_cannot_be_counted_arrives_whole_or_not(tmp_path: Path) -> None:
    """Fluid, and tube in unlike lengths, come without pieces that a number could mean."""
    coming = "coming:\n  - {part: fluid, contents: 1 L}\n  - {part: tube, lengths: [1 m, 2 m, 3 m, 4 m, 5 m]}\n"
    path = write(tmp_path, YAML + coming)
    for word, shown in (("fluid=1", "1 L fluid"), ("tube=1", "1 m + 2 m + 3 m + 4 m + ... tube")):
        with pytest.raises(ArrivalError) as caught:
            arrived(path, [word], LATER)
        said = f"{word[:-2]} does not come in like pieces that can be counted; coming: {shown}"
        assert str(caught.value) == said
    assert text(path) == YAML + coming
    assert [entry.contents for entry in arrived(path, ["fluid"], LATER)] == [1_000_000]


def test_a_long_list_of_what_is_coming_is_cut(tmp_path: Path) -> None:
    """A message names twelve entries and counts the rest."""
    path = write(tmp_path, "stock: 1\ncoming:\n" + "".join(f"  - {{part: p{number}}}\n" for number in range(20)))
    with pytest.raises(ArrivalError) as caught:
        arrived(path, ["zz"], LATER)
    assert str(caught.value).endswith("1 p10, 1 p11, and 8 more")


def test_csv_keeps_what_it_is(tmp_path: Path) -> None:
    """Separator, mark, line ends, order of columns and blank rows stay; missing columns are added to every row."""
    path = write(tmp_path, "\ufeff" + CSV, "stock.csv")
    place(path, ENTRIES)
    placed = (
        "\ufeffPart;Quantity;Note;lengths;contents;supplier;number;ordered;due;state\r\n"
        "nut;4;left tin;;;;;;;\r\n"
        "\r\n"
        "tube;;;;;;;;;\r\n"
        "nut;10;;;;north;N-3;2026-11-27;2026-12-01;coming\r\n"
        'tube;;"soft; new";7620 mm;;south;;;;coming\r\n'
        "fluid;;;;500 mL;;;;;coming\r\n"
        "tee;1;;;;;;;;coming\r\n"
        "tee;1;;;;;;;;coming\r\n"
        ";;\r\n"
    )
    assert text(path) == placed
    assert read_stock(path).coming == tuple(ENTRIES)
    assert [entry[:2] for entry in arrived(path, ["nut=4", "tee"], LATER)] == [("nut", 4), ("tee", 1), ("tee", 1)]
    assert text(path) == edited(
        placed,
        ("nut;10;", "nut;6;"),
        (
            "tee;1;;;;;;;;coming\r\ntee;1;;;;;;;;coming\r\n",
            "nut;4;from north, arrived 2026-12-01;;;;;;;here\r\n"
            "tee;1;arrived 2026-12-01;;;;;;;here\r\ntee;1;arrived 2026-12-01;;;;;;;here\r\n",
        ),
    )


@pytest.mark.parametrize(
    ("start", "after"),
    [
        ("part,state", 'part,state,quantity,note\r\n\'-tee,coming,1,"a, b"'),
        ("part\tstate\nnut\t\n", "part\tstate\tquantity\tnote\nnut\t\t\t\n'-tee\tcoming\t1\ta, b\n"),
        (
            '"part";"state"\n\n',
            '"part";"state";"quantity";"note"\n"\'-tee";"coming";"1";"a, b"\n\n',
        ),
        ("sep=;\npart;state;;\nnut;;;\n", "sep=;\npart;state;;;quantity;note\nnut;;;;;\n'-tee;coming;;;1;a, b\n"),
    ],
)
def test_new_rows_look_like_the_rest(tmp_path: Path, start: str, after: str) -> None:
    """Quotes go round every cell if they do in the header, and else only where they must; a formula is defused."""
    path = write(tmp_path, start, "stock.csv")
    place(path, [Coming("-tee", 1, note="a, b")])
    assert text(path) == after
    assert read_stock(path).coming == (Coming("-tee", 1, note="a, b"),)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"])
def test_csv_keeps_its_encoding(tmp_path: Path, encoding: str) -> None:
    """A file is written in the encoding that it has, with the mark that it has and no other."""
    start = "part,state,note\nnut,,für später\n"
    path = write(tmp_path, start.encode(encoding), "stock.csv")
    place(path, [Coming("tee", 1, note="größer")])
    after = edited(start, ("note\n", "note,quantity\n"), ("später\n", "später,\ntee,coming,größer,1\n"))
    assert path.read_bytes() == after.encode(encoding)


def test_big_endian_stays_big_endian(tmp_path: Path) -> None:
    """UTF-16 with the mark of the other order is written in that order again."""
    path = write(tmp_path, "\ufeffpart,state\n".encode("utf-16-be"), "stock.csv")
    place(path, [Coming("tee", 2)])
    assert path.read_bytes() == "\ufeffpart,state,quantity\ntee,coming,2\n".encode("utf-16-be")


def test_what_cannot_be_written_is_refused(tmp_path: Path) -> None:
    """A sign that the encoding lacks, and more pieces than a stock file takes, leave the file as it was."""
    start = "part,state,note\nnut,,größer\n".encode("cp1252")
    path = write(tmp_path, start, "stock.csv")
    with pytest.raises(InputError) as caught:
        place(path, [Coming("tee", 1, note="5 \u03a9")])
    said = "'\u03a9' cannot be written in cp1252; save the file as UTF-8"
    assert str(caught.value) == f"{path.as_posix()}:1:1: {said}"
    for name, first in (("stock.csv", start), ("stock.yaml", YAML.encode())):
        path = write(tmp_path, first, name)
        with pytest.raises(InputError) as caught:
            place(path, [Coming("tee", 10_000)])
        assert caught.value.problems[0].message == "expected a whole number from 0 to 9999, got '10000'"
        assert path.read_bytes() == first


@pytest.mark.parametrize(("name", "start"), [("stock.yaml", YAML + COMING), ("stock.csv", "part,state\nnut,coming\n")])
@pytest.mark.parametrize("wrong", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_an_interruption_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, start: str, wrong: BaseException
) -> None:
    """If the disk is full or the run is stopped, the file is as it was and nothing lies beside it."""
    path = write(tmp_path, start, name)

    def fail(descriptor: int) -> None:
        raise wrong

    monkeypatch.setattr(os, "fsync", fail)
    for edit in (lambda: place(path, ENTRIES), lambda: arrived(path, [], LATER)):
        with pytest.raises((InputError, KeyboardInterrupt)):
            edit()
        assert text(path) == start
        assert list(tmp_path.iterdir()) == [path]
