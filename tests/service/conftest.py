"""One running application for the tests of the API."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from fitcheck.service.app import create_app
from fitcheck.service.settings import Settings
from tests.service.answer_schemas import DEMO

AT = "http://127.0.0.1:8750"


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a copy of the demo car's folder, with neighbours that nobody may see."""
    top = tmp_path_factory.mktemp("garage")
    (top / "secret.yaml").write_text("secret: yes\n")
    shutil.copytree(DEMO, top / "car")
    (top / "car" / "notes.txt").write_text("secret\n")
    (top / "car" / ".hidden.yaml").write_text("secret: yes\n")
    (top / "car" / "link.yaml").symlink_to(top / "secret.yaml")
    (top / "car" / "away").symlink_to(top)
    return top / "car"


@pytest.fixture(scope="session")
def client(folder: Path) -> Iterator[TestClient]:
    """Return a client of a server that serves that folder."""
    app = create_app(Settings(folder=str(folder), benches=1))
    with TestClient(app, base_url=AT, raise_server_exceptions=False) as found:
        yield found
