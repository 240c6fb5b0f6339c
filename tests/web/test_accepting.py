"""Connections of a socket that several processes share."""

import asyncio
import errno
import socket

import pytest

from pleatwright.web import accepting
from pleatwright.web.accepting import Acceptor


class Greeting(asyncio.Protocol):
    """Says hello to whoever connects."""

    def connection_made(self, transport):
        transport.write(b"hello")
        transport.close()


@pytest.fixture
def listening():
    with socket.create_server(("127.0.0.1", 0)) as found:
        yield found


def connected(listening, count):
    return [socket.create_connection(listening.getsockname(), timeout=5) for _ in range(count)]


def greeted(clients):
    found = []
    for client in clients:
        with client:
            found.append(client.recv(100))
    return found


def test_of_two_that_share_a_socket_each_gets_its_part_of_a_burst(listening):
    """Two of one loop, whose turns come one after the other, as those of two processes do."""
    taken = {"one": 0, "other": 0}

    def counting(name):
        taken[name] += 1
        return Greeting()

    async def share():
        clients = connected(listening, 20)
        with listening.dup() as another:
            sharing = [Acceptor(listening, lambda: counting("one")), Acceptor(another, lambda: counting("other"))]
            found = await asyncio.to_thread(greeted, clients)
            for each in sharing:
                each.close()
                await each.wait_closed()
        return found

    assert asyncio.run(share()) == [b"hello"] * 20
    assert taken == {"one": 10, "other": 10}


def test_once_closed_it_takes_no_more(listening):
    async def close():
        acceptor = Acceptor(listening, Greeting)
        acceptor.close()
        [client] = connected(listening, 1)
        client.settimeout(0.2)
        with client, pytest.raises(TimeoutError):
            await asyncio.to_thread(client.recv, 100)

    asyncio.run(close())


def test_where_the_system_has_no_room_it_tries_again(listening, monkeypatch, caplog):
    monkeypatch.setattr(accepting, "AGAIN", 0.05)
    refusals = [OSError(errno.EMFILE, "Too many open files"), ConnectionAbortedError()]

    class Full(socket.socket):
        def accept(self):
            if refusals:
                raise refusals.pop(0)
            return super().accept()

    async def wait():
        with Full(fileno=listening.detach()) as full:
            Acceptor(full, Greeting)
            return await asyncio.to_thread(greeted, connected(full, 1))

    assert asyncio.run(wait()) == [b"hello"]
    assert "no connection can be taken: Too many open files" in caplog.text
