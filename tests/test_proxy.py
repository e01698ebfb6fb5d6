from types import SimpleNamespace

import pytest

from limekit.course import proxy


@pytest.fixture
def handler():
    sent, used = [], []
    server = SimpleNamespace(
        selected_subprotocol="v1", write_message=lambda message, binary: sent.append((message, binary))
    )
    return SimpleNamespace(
        ws_client=server,
        target={"prefix": "/user/anna"},
        proxy=SimpleNamespace(update_last_activity=used.append),
        sent=sent,
        used=used,
    )


def test_text_stays_text_and_binary_stays_binary(handler):
    proxy.pass_on(handler, "{}")
    proxy.pass_on(handler, b"\xff\x00")
    assert handler.sent == [("{}", False), (b"\xff\x00", True)]
    assert handler.used == ["/user/anna"] * 2


def test_nothing_is_sent_to_a_server_that_is_gone(handler):
    handler.ws_client = None
    proxy.pass_on(handler, "{}")
    assert handler.used == []


def test_the_browser_hears_what_the_server_chose(handler):
    assert proxy.chosen_protocol(handler, ["v1", "v2"]) == "v1"
    handler.ws_client.selected_subprotocol = None
    assert proxy.chosen_protocol(handler, ["v1"]) is None


def test_the_proxy_is_run_with_what_it_lacks(monkeypatch):
    package = pytest.importorskip("configurable_http_proxy", reason="the class's proxy is not installed")
    from configurable_http_proxy import cli, handlers

    monkeypatch.setattr(cli, "main", lambda: None)
    monkeypatch.setattr(handlers.ProxyHandler, "on_message", None)
    monkeypatch.setattr(handlers.ProxyHandler, "select_subprotocol", None)
    proxy.main()
    assert handlers.ProxyHandler.on_message is proxy.pass_on
    assert handlers.ProxyHandler.select_subprotocol is proxy.chosen_protocol
    assert package
