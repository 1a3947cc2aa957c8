"""A browser without a window, and a proxy that notes who was asked and gives nothing."""

import os
import shutil
import socket
import subprocess
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
    "--hide-scrollbars", "--no-pdf-header-footer", "--force-device-scale-factor=1",
    # Its own traffic is not ours: what a page asks for on this machine goes the same way.
    "--proxy-bypass-list=<-loopback>",
)  # fmt: skip

_ITS_OWN = (".google.com", ".googleapis.com", ".gvt1.com")
_PATIENCE = 120


def chromium() -> str:
    """The browser's command. Without one the test is skipped, but never in CI."""
    names = ("chromium", "chromium-browser", "google-chrome")
    found = next((path for name in names if (path := shutil.which(name))), None)
    if found is None and os.environ.get("CI"):
        pytest.fail("CI needs Chromium, and there is none")
    if found is None:
        pytest.skip("no Chromium on this machine")
    return found


def browse(page: Path, home: Path, *flags: str) -> list[str]:
    """Open a page in a new profile under ``home``; which hosts were asked for anything."""
    with _refusing_proxy() as (port, asked):
        subprocess.run(
            [chromium(), *FLAGS, f"--proxy-server=127.0.0.1:{port}", *flags,
             f"--user-data-dir={home / 'profile'}", page.as_uri()],
            check=True, capture_output=True, timeout=_PATIENCE,
        )  # fmt: skip
    return [host for host in asked if host and not host.endswith(_ITS_OWN)]


@contextmanager
def _refusing_proxy() -> Iterator[tuple[int, Sequence[str]]]:
    """A port that takes every call, notes the host, and hangs up."""
    asked = list[str]()
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0.2)
        done = threading.Event()

        def listen() -> None:
            while True:
                try:
                    call, _ = server.accept()
                except TimeoutError:
                    # Calls that came before the end are still taken.
                    if done.is_set():
                        return
                else:
                    asked.append(_host(call))

        listener = threading.Thread(target=listen)
        listener.start()
        try:
            yield server.getsockname()[1], asked
        finally:
            done.set()
            listener.join()


def _host(call: socket.socket) -> str:
    """Whom a call is for: ``GET http://host/path HTTP/1.1`` or ``CONNECT host:443 HTTP/1.1``.

    A line that was opened in advance and never used asks for nobody.
    """
    with call, suppress(OSError):
        call.settimeout(1)
        words = call.recv(4096).split(b"\r\n")[0].decode("ascii", "replace").split()
        if len(words) > 1:
            return words[1].removeprefix("http://").split("/")[0].split(":")[0]
    return ""
