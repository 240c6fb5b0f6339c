"""What the service is measured beside, each with the same messages: SPEED_APP names one for uvicorn to serve.

floor: a bare ASGI callable that decodes and encodes with msgspec. shell: an idiomatic Litestar handler that does the
same. peer: FastAPI with pydantic, echoing the same messages. peer with the engine: the same, with our engine behind it.
"""

import os
from typing import Any

import msgspec
from messages import ANSWERS, HEADINGS, answered, cases
from pydantic_types import model_of

from pleatwright.contract.openapi import request_type
from pleatwright.contract.operations import OPERATIONS
from pleatwright.web.app import create_app
from pleatwright.web.settings import Settings


def operations():
    """Return (path, type of the request, a reply) of each operation measured."""
    bodies = {operation: found[0] for operation, found in reversed(cases().values())}
    for each in OPERATIONS:
        if each.name in ANSWERS:
            yield each.path, request_type(each, HEADINGS.options), answered(each.name, bodies[each.name])


def floor():
    """Return the bare callable."""
    routes = {path: (msgspec.json.Decoder(asked), reply) for path, asked, reply in operations()}
    encode = msgspec.json.Encoder().encode

    async def app(scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            return
        decoder, reply = routes[scope["path"]]
        body, more = b"", True
        while more:
            message = await receive()
            body, more = body + message.get("body", b""), message.get("more_body", False)
        decoder.decode(body)
        encoded = encode(reply)
        headers = [(b"content-type", b"application/json"), (b"content-length", str(len(encoded)).encode())]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": encoded})

    return app


def shell():
    """Return Litestar's way of doing so."""
    from litestar import Litestar, post

    def route(path, asked, reply):
        async def handler(data: Any) -> Any:
            return reply

        handler.__annotations__ = {"data": asked, "return": type(reply)}
        return post(path, status_code=200)(handler)

    return Litestar([route(*each) for each in operations()], openapi_config=None)


def peer(*, engine=False):
    """Return FastAPI's; with the engine, replies are worked out."""
    from fastapi import FastAPI

    app = FastAPI(openapi_url=None)

    def route(path, asked, reply):
        answers, told = model_of(asked), model_of(type(reply))
        ready = told.model_validate(msgspec.to_builtins(reply))
        operation = path.rpartition("/")[2]

        async def handler(data: Any) -> Any:
            if not engine:
                return ready
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


def app():
    """Return the one that SPEED_APP names."""
    name = os.environ["SPEED_APP"]
    if name == "ours":
        return create_app(Settings(log="off"), HEADINGS)
    return {"floor": floor, "shell": shell, "peer": peer, "peer with the engine": lambda: peer(engine=True)}[name]()
