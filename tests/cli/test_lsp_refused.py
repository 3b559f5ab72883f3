"""`fitcheck lsp` without what speaks the protocol."""

import sys

import pytest

from fitcheck.cli.main import main


def test_extra_is_named_if_it_is_missing(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Where pygls is not installed the verb says what to install, and does not begin to talk."""
    monkeypatch.delitem(sys.modules, "fitcheck.service.editor.server", raising=False)
    for name in [name for name in sys.modules if name.partition(".")[0] in ("pygls", "lsprotocol")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "lsprotocol", None)
    assert main(["lsp"]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err == 'fitcheck: this verb needs the extra lsp: pip install "fitcheck[lsp]"\n'
