"""A field that an object has twice is a fault at its place, wherever it stands and whatever else is wrong."""

import json
import time

import pytest

from pleatwright.contract.reading import UnreadableError
from pleatwright.faults import json_pointer

GOOD = b'{"units": "in", "cut_length": "99 1/2", "cuts": 5, "vertical_repeat": "25 1/4"}'


def pointers(request_reader, operation, body):
    with pytest.raises(UnreadableError) as unreadable:
        request_reader.read(operation, body)
    return [json_pointer(fault.where) for fault in unreadable.value.faults]


def test_the_place_of_each_is_told(request_reader):
    body = b"""{"units": "in", "windows": [{"rod": {"width": 96, "width": 69}, "hang": {"drop": 84}, "fabric": "Linen",
      "heading": {"style": "pencil", "style": "pencil"}, "label": "A", "label": "B"}],
      "fabrics": {"Linen": {"width": 54}, "Linen": {"width": 55}}}"""
    assert sorted(pointers(request_reader, "estimate", body)) == [
        "/fabrics/Linen",
        "/windows/0/heading/style",
        "/windows/0/label",
        "/windows/0/rod/width",
    ]


def test_it_is_told_beside_all_other_faults(request_reader):
    body = GOOD.replace(b'"cuts": 5', b'"cuts": 5, "cuts": "many", "ells": 3')
    assert sorted(set(pointers(request_reader, "repeat", body))) == ["/cuts", "/ells"]


def test_the_same_name_in_two_objects_is_no_fault(request_reader):
    assert request_reader.read("repeat", GOOD).cuts == 5


@pytest.mark.parametrize("body", [b"[" * 60 + b"]" * 60, GOOD[:-1] + b', "n": 1' + b"0" * 5000 + b"}"])
def test_what_json_readers_stumble_over_is_refused_and_no_failure(request_reader, body):
    with pytest.raises(UnreadableError):
        request_reader.read("repeat", body)


def test_a_body_full_of_them_takes_no_time(request_reader):
    names = ",".join(f'"{number}": 1, "{number}": 2' for number in range(10_000))
    body = GOOD[:-1] + b"," + names.encode() + b"}"
    began = time.process_time()
    with pytest.raises(UnreadableError) as unreadable:
        request_reader.read("repeat", body)
    assert time.process_time() - began < 2
    assert len(unreadable.value.faults) <= 50
    assert len(json.dumps([fault.detail for fault in unreadable.value.faults])) < 20_000
