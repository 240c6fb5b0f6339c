"""What the service is measured beside, each with the same messages: SPEED_APP names one for uvicorn to serve.

floor: a bare ASGI callable that decodes and encodes with msgspec. shell: an idiomatic Litestar handler that does the
same. peer: FastAPI with pydantic, which takes and gives the same messages. peer with the engine: the same, with our
engine behind it.
floor, shell and peer work nothing out: each gives a reply that was made before, of
as many windows as it was asked for, and encodes it anew.
"""

import os
from typing import Any

import msgspec
from messages import ANSWERS, HEADINGS, example, twelve_windows
from pydantic_types import model_of

from pleatwright.contract.openapi import request_type
from pleatwright.contract.operations import OPERATIONS


def operations():
    """Return (path, type of the request, replies made before by the count of windows) of each operation measured."""
    for each in OPERATIONS:
        if each.name in ANSWERS:
            asked = request_type(each, HEADINGS.options)
            bodies = [example(each.name), twelve_windows()] if each.name == "estimate" else [example(each.name)]
            requests = [msgspec.convert(body, asked) for body in bodies]
            yield each.path, asked, {windows_of(request): ANSWERS[each.name](request) for request in requests}


def windows_of(request: Any) -> int:
    """Return the count of windows of a job; 0 of what is none."""
    return len(getattr(request, "windows", ()))


def floor():
    """Return the bare callable."""
    routes = {path: (msgspec.json.Decoder(asked), replies) for path, asked, replies in operations()}
    encode = msgspec.json.Encoder().encode

    async def app(scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            return
        decoder, replies = routes[scope["path"]]
        body, more = b"", True
        while more:
            message = await receive()
            body, more = body + message.get("body", b""), message.get("more_body", False)
        encoded = encode(replies[windows_of(decoder.decode(body))])
        headers = [(b"content-type", b"application/json"), (b"content-length", str(len(encoded)).encode())]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": encoded})

    return app


def shell():
    """Return Litestar's way of doing so."""
    from litestar import Litestar, post

    def route(path, asked, replies):
        async def handler(data: Any) -> Any:
            return replies[windows_of(data)]

        handler.__annotations__ = {"data": asked, "return": reply_type(replies)}
        return post(path, status_code=200)(handler)

    return Litestar([route(*each) for each in operations()], openapi_config=None)


def peer(*, engine=False):
    """Return FastAPI's; with the engine, replies are worked out."""
    from fastapi import FastAPI

    app = FastAPI(openapi_url=None)

    def route(path, asked, replies):
        answers, told = model_of(asked), model_of(reply_type(replies))
        ready = {count: told.model_validate(msgspec.to_builtins(reply)) for count, reply in replies.items()}
        operation = path.rpartition("/")[2]

        async def handler(data: Any) -> Any:
            if not engine:
                return ready[windows_of(data)]
            return told.model_validate(
                msgspec.to_builtins(
                    ANSWERS[operation](msgspec.convert(data.model_dump(by_alias=True, exclude_unset=True), asked))
                )
            )

        handler.__annotations__ = {"data": answers, "return": told}
        app.post(path)(handler)

    for each in operations():
        route(*each)
    return app


def reply_type(replies):
    """Return the type of an operation's replies."""
    [found] = {type(reply) for reply in replies.values()}
    return found


def app():
    """Return the one that SPEED_APP names."""
    made = {"floor": floor, "shell": shell, "peer": peer, "peer with the engine": lambda: peer(engine=True)}
    return made[os.environ["SPEED_APP"]]()
