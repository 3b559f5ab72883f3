"""What a server may be told."""

from pathlib import Path

import pytest

from fitcheck.service.settings import Settings, SettingsError, is_loopback

_TOKEN = "sixteen-of-these"


@pytest.mark.parametrize("host", ["127.0.0.1", "127.9.9.9", "::1", "localhost"])
def test_loopback(host: str) -> None:
    """These reach this machine alone and need no token."""
    assert is_loopback(host)
    assert Settings(host=host).checked().loopback


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.168.1.5", "workshop", "", "127.0.0.1.example"])
def test_beyond_loopback(host: str) -> None:
    """Whatever else can be reached by others needs a token."""
    with pytest.raises(SettingsError) as caught:
        Settings(host=host).checked()
    assert str(caught.value) == f"{host} can be reached from other machines: give --token or FITCHECK_TOKEN"
    assert Settings(host=host, token=_TOKEN).checked().token == _TOKEN


@pytest.mark.parametrize(
    ("token", "message"),
    [
        ("short", "the token: expected at least 16 printable ASCII characters"),
        ("caf\xe9-of-sixteen-chars", "the token: expected at least 16 printable ASCII characters"),
        ("new\nline-and-sixteen", "the token: expected at least 16 printable ASCII characters"),
        ("with blanks-of-sixteen", "the token: expected no blanks"),
    ],
)
def test_tokens(token: str, message: str) -> None:
    """A token that can be tried out, or that no header can hold, is refused."""
    with pytest.raises(SettingsError) as caught:
        Settings(token=token).checked()
    assert str(caught.value) == message


def test_handed_on(tmp_path: Path) -> None:
    """Settings come through the environment as they were."""
    settings = Settings(folder=str(tmp_path), allowed=("workshop",), token=_TOKEN)
    assert Settings.from_environment(settings.to_environment()) == settings
    assert Settings.from_environment({}) == Settings()
    with pytest.raises(SettingsError, match=r"none is no folder$"):
        Settings(folder=str(tmp_path / "none")).checked()
