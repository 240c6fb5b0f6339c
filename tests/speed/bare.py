"""A bare Litestar application of one handler, to start beside ours: what framework and server take by themselves."""

import msgspec
from litestar import Litestar, post


class Told(msgspec.Struct):
    """What the handler says."""

    pleat_count: int


@post("/v1/pleats", status_code=200)
async def pleats(data: dict[str, object]) -> Told:
    """Answer the same to everything."""
    return Told(len(data))


app = Litestar([pleats], openapi_config=None)
