"""How much is to be measured."""

from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True)
class Plan:
    """Rounds, whose median is told; seconds of each under load; requests after which memory is looked at.

    `batches` are the lines of the batches whose memory is compared, `scratch` a folder for what is written meanwhile.
    """

    rounds: int
    seconds: int
    requests: int
    batches: tuple[int, ...]
    scratch: Path
