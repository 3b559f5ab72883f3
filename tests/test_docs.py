"""The pages for those who write files by hand are complete: every key of every model stands in its own table.

A page's table belongs to the heading over it. To hold another page against its models, add it to PAGES.
"""

import re
from pathlib import Path

import pytest
import yaml

from fitcheck.catalog.entries import CatalogFile, Entry, PanelEntry, PartEntry, PortEntry, SwellingEntry
from fitcheck.catalog.offer_file import (
    BreakEntry,
    OfferFile,
    PriceEntry,
    RateEntry,
    ShippingEntry,
    SupplierEntry,
    WeightStepEntry,
    read_offers,
)
from fitcheck.catalog.part import KINDS
from fitcheck.catalog.stock_file import ComingEntry, StockEntry, StockFile, read_stock
from fitcheck.sources import parse
from fitcheck.standards.materials import materials
from fitcheck.standards.seats import SEAT_NAMES
from fitcheck.validation import validate

ROOT = Path(__file__).parents[1]
CATALOG_PAGE = "catalog_schema/README.md"
PAGES: dict[str, dict[str, type[Entry]]] = {
    CATALOG_PAGE: {
        "Ports": PortEntry,
        "Parts": PartEntry,
        "Panels": PanelEntry,
        "Swelling": SwellingEntry,
        "The catalog file": CatalogFile,
        "The offer file": OfferFile,
        "Suppliers": SupplierEntry,
        "Carriage": ShippingEntry,
        "Weight steps": WeightStepEntry,
        "Prices": PriceEntry,
        "Price breaks": BreakEntry,
        "Rates": RateEntry,
        "The stock file": StockFile,
        "Shelf": StockEntry,
        "Coming": ComingEntry,
    }
}
"""For each page the model that the table under each heading explains."""
TABLES = [(page, heading, model) for page, tables in PAGES.items() for heading, model in tables.items()]
FILES: dict[str, type[Entry]] = {"catalog": CatalogFile, "offers": OfferFile, "stock": StockFile}


def text_of(page: str) -> str:
    """Return the text of a page."""
    return (ROOT / page).read_text(encoding="utf-8")


def section(page: str, heading: str) -> str:
    """Return what stands under one heading of the third level, up to the next heading."""
    found = re.search(rf"^### {re.escape(heading)}\n(.*?)(?=^##|\Z)", text_of(page), re.DOTALL | re.MULTILINE)
    assert found is not None, heading
    return found[1]


def table_keys(page: str, heading: str) -> list[str]:
    """Return the keys in the first column of the table under a heading."""
    cells = [line.split("|")[1] for line in section(page, heading).splitlines() if line.startswith("| `")]
    return [key for cell in cells for key in re.findall(r"`([^`]+)`", cell)]


def model_keys(model: type[Entry]) -> list[str]:
    """Return the keys of a model as users write them."""
    return [field.alias or name for name, field in model.model_fields.items()]


@pytest.mark.parametrize(("page", "heading", "model"), TABLES, ids=[heading for _, heading, _ in TABLES])
def test_every_key_stands_in_its_table_once(page: str, heading: str, model: type[Entry]) -> None:
    """The table explains each key of the model once and none that the program would refuse."""
    assert sorted(table_keys(page, heading)) == sorted(model_keys(model))


@pytest.mark.parametrize("page", PAGES)
def test_every_row_says_something(page: str) -> None:
    """No key stands in a table without its meaning."""
    rows = [line.split("|") for line in text_of(page).splitlines() if line.startswith("| `")]
    assert rows
    assert [row for row in rows if len("".join(row[2:]).strip()) < 10] == []


def test_no_model_of_the_catalogs_files_is_left_out() -> None:
    """Every model that is a record of a catalog, offer or stock file has its table on the page."""
    from fitcheck.catalog import entries, offer_file, stock_file

    models = {
        one
        for module in (entries, offer_file, stock_file)
        for one in vars(module).values()
        if isinstance(one, type) and issubclass(one, Entry) and one.model_fields
    }
    assert models == set(PAGES[CATALOG_PAGE].values())


def test_known_words_are_all_named() -> None:
    """The page names every seat, every kind of part and every material that a tube may have."""
    kinds = re.sub(r"\s+", " ", section(CATALOG_PAGE, "Kinds"))
    assert [kind for kind in KINDS if f"`{kind}`" not in kinds] == []
    seats = next(line for line in text_of(CATALOG_PAGE).splitlines() if line.startswith("| `seat`"))
    assert re.findall(r"`([^`]+)`", seats)[1:] == list(SEAT_NAMES)
    row = next(line for line in text_of(CATALOG_PAGE).splitlines() if line.startswith("| `material`"))
    assert re.findall(r"`([^`]+)`", row)[1:] == list(materials())


def test_every_example_is_read() -> None:
    """Each whole file that the page shows is accepted as it stands; all three sorts are shown."""
    blocks = re.findall(r"```yaml\n(.*?)```", text_of(CATALOG_PAGE), re.DOTALL)
    shown = set()
    for block in blocks:
        first = next(iter(yaml.safe_load(block)))
        if len(yaml.safe_load(block)) > 1:
            validate(FILES[first], parse(block, CATALOG_PAGE))
            shown.add(first)
    assert shown == set(FILES)


def test_every_csv_example_is_read(tmp_path: Path) -> None:
    """Each sheet that the page shows is read beside its YAML, and every row of it is an entry; both sorts are shown."""
    blocks = re.findall(r"```(yaml|csv)\n(.*?)```", text_of(CATALOG_PAGE), re.DOTALL)
    (tmp_path / "offers.yaml").write_text(next(text for kind, text in blocks if text.startswith("offers:")))
    shown = set()
    for text in (text for kind, text in blocks if kind == "csv"):
        sort = "stock" if "state" in text.partition("\n")[0] else "offers"
        sheet = tmp_path / f"{sort}.csv"
        sheet.write_text(text)
        if sort == "offers":
            with_yaml, alone = [tmp_path / "offers.yaml", sheet], [tmp_path / "offers.yaml"]
            found = len(read_offers(with_yaml).offers) - len(read_offers(alone).offers)
        else:
            stock = read_stock(sheet)
            found = len(stock.entries) + len(stock.coming)
        assert found == text.count("\n") - 1
        shown.add(sort)
    assert shown == {"offers", "stock"}
