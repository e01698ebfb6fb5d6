"""The class's proxy, as the hub starts it: configurable-http-proxy in Python, and three things it lacks for notebooks.

Its client lets ten requests through at a time, too few for twelve pages that start together. It does not tell a
browser which protocol the server chose, so that every lesson's first connection fails. It passes what a browser
sends in binary on as text, which a server refuses.
"""

from __future__ import annotations

AT_ONCE = 500


def chosen_protocol(handler, offered: list[str]) -> str | None:
    """Return the protocol that the server behind the proxy chose of those a browser offered."""
    return handler.ws_client.selected_subprotocol


def pass_on(handler, message: str | bytes) -> None:
    """Send what came from a browser to the server, text as text and binary as binary; the page is in use."""
    if handler.ws_client:
        handler.proxy.update_last_activity(handler.target["prefix"])
        handler.ws_client.write_message(message, binary=isinstance(message, bytes))


def main() -> None:
    """Run the proxy with the words it was started with."""
    from configurable_http_proxy import cli, handlers
    from tornado.httpclient import AsyncHTTPClient

    AsyncHTTPClient.configure(None, max_clients=AT_ONCE)
    handlers.ProxyHandler.select_subprotocol = chosen_protocol
    handlers.ProxyHandler.on_message = pass_on
    cli.main()


if __name__ == "__main__":
    main()
