"""What the checks against outside sources share."""

import json

import pytest

from pleatwright import workroom


@pytest.fixture
def ask(headings, request_reader):
    """Ask the workroom for one of its operations."""
    return lambda operation, request: getattr(workroom, operation)(
        request_reader.read(operation, json.dumps(request).encode()), headings
    )
