"""Requests a second beside a bare callable, Litestar and FastAPI: one worker each, on one core."""

from contextlib import ExitStack

import alone
from loading import load, mixed_script, scripts
from messages import ENCODE, answered, cases
from plan import Plan
from serving import SERVER_CORE, Service, beside, connected, on, ours
from tables import Measured, Table, ratio_with_spread, with_spread
from wire import ask

BESIDE = ("floor", "shell", "peer", "peer with the engine")
OURS, ALONE = "ours", "engine alone"


def measure(plan: Plan) -> Measured:
    """Measure every case with every application, one after the other in each round."""
    written = scripts(plan.scratch)
    rates: dict[tuple[str, str], list[float]] = {
        (name, case): [] for name in (*BESIDE, OURS, ALONE) for case in cases()
    }
    busiest = dict.fromkeys(cases(), 0.0)
    with ExitStack() as ending:
        services = [*(ending.enter_context(beside(name)) for name in BESIDE), ending.enter_context(ours())]
        check(services[-1])
        for service in services:
            load(service, mixed_script(plan.scratch), 1)
        for _ in range(plan.rounds):
            for case, script in written.items():
                for service in services:
                    done = load(service, script, plan.seconds)
                    rates[service.name, case].append(done.rate)
                    busiest[case] = max(busiest[case], done.busy)
                with on(SERVER_CORE):
                    rates[ALONE, case].append(alone.rate(case, plan.seconds))
    names = (*BESIDE, OURS, ALONE)
    rows = [[case, *(with_spread(rates[name, case]) for name in names), f"{busiest[case]:.0%}"] for case in cases()]
    ratios = [
        [case, *(ratio_with_spread(rates[OURS, case], rates[name, case]) for name in (*BESIDE, ALONE))]
        for case in cases()
    ]
    return Measured(
        [
            Table("Requests a second, one worker on one core", ("case", *names, "wrk is busy for, at most"), rows),
            Table("Ours, as a share of the others", ("case", *(f"ours : {name}" for name in (*BESIDE, ALONE))), ratios),
        ]
    )


def check(service: Service) -> None:
    """See that each case is answered with what the engine gives."""
    with connected(service) as connection:
        for case, (operation, bodies) in cases().items():
            found = ask(connection, operation, bodies[-1])
            assert found == ENCODE(answered(operation, bodies[-1])), f"{case} is not answered as by the engine"
