#!/usr/bin/env python3
"""Builds the app and serves it on this machine, with the headers it has in production.  python3 web/serve.py

Standard library only; the first start sets everything up, later ones take a second.
"""

import argparse
import os
import sys
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

from policy import HEADERS  # noqa: E402

PORT = 8017


class Handler(SimpleHTTPRequestHandler):
    """Static files with the security headers, and with the types that Pyodide and the browser insist on."""

    protocol_version = "HTTP/1.1"  # a page of sixty modules on one connection
    extensions_map = SimpleHTTPRequestHandler.extensions_map | {
        ".js": "text/javascript",
        ".mjs": "text/javascript",
        ".wasm": "application/wasm",
        ".webmanifest": "application/manifest+json",
        ".woff2": "font/woff2",
    }

    def end_headers(self) -> None:
        for name, value in HEADERS.items():
            self.send_header(name, value)
        super().end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Say nothing: the address is what the reader of this terminal looks for."""


def server(folder: Path, port: int = PORT) -> ThreadingHTTPServer:
    """A server of `folder` on localhost, on `port` or, when that is taken, on a free one."""
    handler = partial(Handler, directory=str(folder))
    try:
        return ThreadingHTTPServer(("127.0.0.1", port), handler)
    except OSError:
        return ThreadingHTTPServer(("127.0.0.1", 0), handler)


def _end_with_input() -> None:
    sys.stdin.buffer.read()
    os._exit(0)


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--port", type=int, default=PORT, help="port to listen on; 0 takes a free one")
    options.add_argument("--folder", type=Path, help="serve this folder as it is instead of building")
    options.add_argument("--leash", action="store_true", help="end when standard input ends, which it does with the program that started this one")
    chosen = options.parse_args()
    if chosen.leash:
        threading.Thread(target=_end_with_input, daemon=True).start()
    if chosen.folder is None:
        from build import build

        chosen.folder = build()
    with server(chosen.folder, chosen.port) as serving:
        print(f"Feed to Frame is at http://localhost:{serving.server_port}/   (Ctrl+C stops it)", flush=True)
        try:
            serving.serve_forever()
        except KeyboardInterrupt:
            print()


if __name__ == "__main__":
    main()
