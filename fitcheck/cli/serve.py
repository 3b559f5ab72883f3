"""`fitcheck serve`: the page and the HTTP API."""

import argparse
import os
import signal
import socket
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from fitcheck.cli.common import RequestError, count, printable

if TYPE_CHECKING:
    from fitcheck.service.settings import Settings

_WIRE = "fitcheck.service.wire:PromptProtocol"
_APP = "fitcheck.service.app:from_environment"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the verb's arguments."""
    where = "build file, or folder with build.yaml, to be served (default: this folder, if it has one)"
    parser.add_argument("build", nargs="?", help=where)
    parser.add_argument("--host", metavar="HOST", default="127.0.0.1", help="address to listen on (default: 127.0.0.1)")
    parser.add_argument("--port", metavar="N", type=_port, default=8750, help="0 takes a free one (default: 8750)")
    parser.add_argument("--workers", metavar="N", type=count, default=1, help="server processes (default: 1)")
    token = "what every request has to bring; needed if other machines can reach HOST (default: FITCHECK_TOKEN)"
    parser.add_argument("--token", metavar="TOKEN", help=token)
    allowed = "answer to this name as well; may be given again"
    parser.add_argument("--allow-host", metavar="NAME", action="append", default=[], help=allowed)


def run(args: argparse.Namespace) -> int:
    """Serve until stopped.

    Raises:
        RequestError: what serves is not installed, or the build is not there.
        SettingsError: it would let strangers in.
    """
    import gc
    from tempfile import TemporaryDirectory

    try:
        import uvicorn
        from uvicorn.supervisors import Multiprocess

        from fitcheck.service.app import create_app
    except ModuleNotFoundError as error:
        if (error.name or "").partition(".")[0] not in ("fastapi", "uvicorn", "jinja2"):
            raise
        raise RequestError('this verb needs the extra serve: pip install "fitcheck[serve]"') from None
    settings = _settings(args)
    gc.enable()  # unlike other verbs this one runs on
    with TemporaryDirectory(prefix="fitcheck-undo-") as journal, _listen(settings) as listening:
        settings = settings._replace(port=listening.getsockname()[1], journal=journal)
        signal.signal(signal.SIGTERM, _ended)
        _tell(settings)
        how: dict[str, Any] = {"log_level": "warning", "server_header": False, "proxy_headers": False, "ws": "none"}
        if settings.workers == 1:
            server = uvicorn.Server(uvicorn.Config(create_app(settings), http=_WIRE, **how))
            server.run(sockets=[listening])
            return 0 if server.started else 2
        os.environ.update(settings.to_environment())
        shared = uvicorn.Config(_APP, factory=True, workers=settings.workers, http=_WIRE, **how)
        listening.set_inheritable(True)
        Multiprocess(shared, sockets=[listening]).run()
    return 0


def _ended(signum: int, frame: object) -> NoReturn:
    """Leave as the signal asks, after what was put away for the time of serving is taken out."""
    raise SystemExit(128 + signum)


def _listen(settings: "Settings") -> socket.socket:
    """Return a socket that listens where it should.

    Raises:
        RequestError: it cannot.
    """
    try:
        family = socket.getaddrinfo(settings.host, settings.port, type=socket.SOCK_STREAM)[0][0]
        return socket.create_server((settings.host, settings.port), family=family, backlog=512)
    except (OSError, UnicodeError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise RequestError(f"cannot listen at {settings.host}, port {settings.port}: {reason}") from None


def _settings(args: argparse.Namespace) -> "Settings":
    from fitcheck.build.load import build_path
    from fitcheck.service.settings import Settings

    token = args.token if args.token is not None else os.environ.get("FITCHECK_TOKEN", "")
    settings = Settings(
        args.host,
        args.port,
        token,
        allowed=tuple(args.allow_host),
        benches=_cores() // args.workers + 1,  # one has work in hand while another's answer is handed on
        workers=args.workers,
    )
    path = build_path(Path(args.build or "."))
    if path.is_file():
        settings = settings._replace(folder=str(path.parent.resolve()), build=path.name)
    elif args.build is not None:
        raise RequestError(f"there is no build file {path}")
    return settings.checked()


def _cores() -> int:
    """Return how many cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _tell(settings: "Settings") -> None:
    """Say where, what and to whom, on standard error."""
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    what = Path(settings.folder) / settings.build if settings.folder is not None else "what is posted; no folder"
    print(printable(f"fitcheck serves {what}"), file=sys.stderr)
    many = f", {settings.workers} server processes" if settings.workers > 1 else ""
    if settings.folder is not None:
        print(printable(f"its page is http://{host}:{settings.port}/"), file=sys.stderr)
    print(printable(f"at http://{host}:{settings.port}/api/{many}; stop with Ctrl-C"), file=sys.stderr)
    if not settings.loopback:
        print("other machines can reach it: every request has to bring the token", file=sys.stderr)
    elif settings.token:
        print("every request has to bring the token", file=sys.stderr)


def _port(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) <= 5 and int(text) < 65536):
        raise argparse.ArgumentTypeError(f"expected a port from 0 to 65535, got {text[:20]!r}")
    return int(text)
