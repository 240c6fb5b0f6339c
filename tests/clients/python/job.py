"""A shop's program on the client that openapi-python-client makes of the contract.

python job.py ADDRESS KEY

A key may be left out of any request to an open service, but the generator knows no key that may: its types ask for an
AuthenticatedClient wherever one is taken, and any token will do.
"""

import sys
from decimal import Decimal
from typing import assert_never

from pleatwright_client import AuthenticatedClient as Client
from pleatwright_client.api.headings import heading, headings
from pleatwright_client.api.workroom import estimate, pleats
from pleatwright_client.models import (
    EstimateReply,
    EstimateRequest,
    EvenPoints,
    Eyelet,
    Goblet,
    Hang,
    HeadingFigures,
    HeadingsReply,
    PlacedSeamPlace,
    PleatsReply,
    PleatsRequest,
    Price,
    PriceRange,
    Pricing,
    PricingView,
    Problem,
    Rod,
    Units,
    Wave,
    Window,
)
from pleatwright_client.types import Unset

FABRIC = "Plain linen, flax"


def window(rod: Rod, style: Goblet | Eyelet | Wave) -> Window:
    """Return a window of everyday size."""
    return Window(rod=rod, hang=Hang(drop="84"), heading=style, fabric=FABRIC)


def priced(client: Client) -> Price:
    """Price a job: of the least that can be said of it, with what it would come to if the rest were otherwise."""
    job = EstimateRequest(units=Units.IN, windows=[window(Rod(width="96"), Goblet(style="goblet"))])
    reply = estimate.sync(client=client, body=job)
    assert isinstance(reply, EstimateReply), reply
    price = reply.price
    assert isinstance(price, Price)
    assert isinstance(price.range_, PriceRange)
    assert Decimal(price.range_.least) <= Decimal(price.total) <= Decimal(price.range_.most)
    assert sum(Decimal(line.amount) for line in price.lines) == Decimal(price.net)
    assert {each.at for each in price.range_.because} <= {each.at.rpartition("/")[2] for each in reply.assumed}
    return price


def with_options(client: Client) -> PleatsReply:
    """Use the options of a style, and read where its seam lies."""
    eyelets = Eyelet(style="eyelet", rod_girth="3 1/2", hole="1 9/16")
    panel = PleatsRequest(units=Units.IN, heading=eyelets, flat_width="101", finished_width=48, seams=["50 1/2"])
    reply = pleats.sync(client=client, body=panel)
    assert isinstance(reply, PleatsReply), reply
    assert [seam.place for seam in reply.seams] == [PlacedSeamPlace.IN_BACK_FOLD]
    return reply


def kind_of(style: Goblet | Eyelet | Wave) -> str:
    """Tell styles apart by their constant: a style that is left out here is one that mypy misses."""
    if style.style == "goblet":
        return "pleats"
    if style.style == "eyelet":
        return "points"
    if style.style == "wave":
        return "points"
    assert_never(style)


def faults_of(client: Client, job: EstimateRequest, status: int) -> dict[str, str]:
    """Return the faults of a job that cannot be, by their JSON Pointers."""
    answer = estimate.sync_detailed(client=client, body=job)
    assert answer.status_code == status
    problem = answer.parsed
    assert isinstance(problem, Problem)
    assert problem.status == status
    assert not isinstance(problem.errors, Unset)
    return {fault.pointer: fault.detail for fault in problem.errors}


def main(address: str, key: str) -> None:
    """Do what a shop does."""
    client = Client(base_url=address, token="none-is-needed")
    price = priced(client)
    laid_out = with_options(client)

    unreadable = EstimateRequest(
        units=Units.IN, windows=[window(Rod(width="ninety"), Wave(style="wave", snap_spacing="1,5"))]
    )
    read = faults_of(client, unreadable, 400)
    assert set(read) == {"/windows/0/rod/width", "/windows/0/heading/snap_spacing"}, read
    impossible = EstimateRequest(units=Units.IN, windows=[window(Rod(width="0"), Goblet(style="goblet"))])
    made = faults_of(client, impossible, 422)
    assert set(made) == {"/windows/0/rod/width"}, made

    listed = headings.sync(client=client, units=Units.CM)
    assert isinstance(listed, HeadingsReply)
    for figures in listed.headings:
        one = heading.sync(figures.style, client=client, units=Units.CM)
        assert isinstance(one, HeadingFigures)
        assert one == figures
        assert one.fullness.least <= one.fullness.usual <= one.fullness.most
    kinds = {figures.style: figures.layout.value for figures in listed.headings}
    for style in (Goblet(style="goblet"), Eyelet(style="eyelet"), Wave(style="wave")):
        assert kind_of(style) == kinds[style.style]

    own = EstimateRequest(
        units=Units.IN,
        windows=[window(Rod(width="96"), Goblet(style="goblet"))],
        pricing=Pricing(view=PricingView.WORKROOM),
    )
    refused = estimate.sync(client=client, body=own)
    assert isinstance(refused, Problem)
    assert refused.status == 401
    seen = estimate.sync(client=Client(base_url=address, token=key), body=own)
    assert isinstance(seen, EstimateReply)
    assert not isinstance(seen.workroom, Unset)

    # What a client reads and sends on comes out as it came in.
    assert PleatsReply.from_dict(laid_out.to_dict()) == laid_out
    assert isinstance(laid_out.points, EvenPoints)
    print(f"Python: {price.total} {price.currency}, {laid_out.points.count} eyelets, faults at {', '.join(read)}")


if __name__ == "__main__":
    main(*sys.argv[1:])
