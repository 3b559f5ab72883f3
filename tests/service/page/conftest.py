"""A page of its own for each test: its folder may be written to."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from starlette.testclient import TestClient

from fitcheck.service.app import create_app
from fitcheck.service.settings import Settings
from tests.service.answer_schemas import DEMO

AT = "http://127.0.0.1:8750"
FROM_HERE = {"Origin": AT}


class Served(NamedTuple):
    """A served copy of the demo car."""

    client: TestClient
    folder: Path

    @property
    def build(self) -> Path:
        """The build file."""
        return self.folder / "build.yaml"

    def fields(self, **more: str) -> dict[str, str]:
        """Return the hidden fields of the page's text form, as a browser would send them, and more."""
        form = re.search(r'id="text-form">(.*?)<div', self.client.get("/").text, re.DOTALL)
        assert form is not None
        found = dict(re.findall(r'name="(\w+)" value="([^"]*)"', form[1]))
        return {**found, "do": "save", **more}

    def post(self, path: str, fields: dict[str, str], **more: Any) -> Any:
        """Return the answer to a form."""
        return self.client.post(path, data=fields, headers={**FROM_HERE, **more.pop("headers", {})}, **more)


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """Return a server of a copy of the demo car."""
    folder = tmp_path_factory.mktemp("car")
    shutil.copytree(DEMO, folder, dirs_exist_ok=True)
    app = create_app(Settings(folder=str(folder), benches=1))
    with TestClient(app, base_url=AT, raise_server_exceptions=False) as client:
        yield Served(client, folder)


@pytest.fixture
def served(running: Served) -> Served:
    """Return that server with the files as they come."""
    for file in DEMO.iterdir():
        shutil.copyfile(file, running.folder / file.name)
    return running
