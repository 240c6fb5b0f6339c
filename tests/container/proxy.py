"""HAProxy, with the configuration of deploy/proxy at other ports."""

import csv
import io
import re
import socket
import subprocess
import time

from machine import PROJECT, Trouble

CONFIGURATION = PROJECT / "deploy" / "proxy" / "haproxy.cfg"
NAMES = ("one", "two", "three")


class Proxy:
    """A proxy on loopback, before services at three ports."""

    def __init__(self, folder, port, services):
        self._socket = folder / "haproxy.sock"
        written = CONFIGURATION.read_text().replace("127.0.0.1:8080", f"127.0.0.1:{port}")
        for name, each in zip(NAMES, services, strict=True):
            written = re.sub(rf"(server {name} +)127\.0\.0\.1:\d+", rf"\g<1>127.0.0.1:{each}", written)
        (folder / "haproxy.cfg").write_text(written)
        (folder / "watched.cfg").write_text(f"global\n    stats socket {self._socket} level admin\n")
        self.process = subprocess.Popen(
            ["haproxy", "-f", folder / "haproxy.cfg", "-f", folder / "watched.cfg"],
            stdout=(folder / "haproxy.log").open("w"),
            stderr=subprocess.STDOUT,
        )

    def told(self, command):
        """Give HAProxy a command; return what it says."""
        with socket.socket(socket.AF_UNIX) as asking:
            asking.connect(str(self._socket))
            asking.sendall(f"{command}\n".encode())
            with asking.makefile("r") as told:
                return told.read()

    def figures(self):
        """Return HAProxy's figures of each service, by name."""
        rows = csv.DictReader(io.StringIO(self.told("show stat").removeprefix("# ")))
        return {row["svname"]: row for row in rows if row["svname"] in NAMES}

    def favour(self, name, *, alone):
        """Have one service take every new request, or all of them again."""
        for other in set(NAMES) - {name}:
            self.told(f"set server pleatwright/{other} state {'drain' if alone else 'ready'}")

    def sent_again(self):
        """Return how often a request has been sent again, to the same service or another."""
        return sum(int(each["wretr"]) + int(each["wredis"]) for each in self.figures().values())

    def is_up(self, name):
        """Return whether the proxy takes a service to be up."""
        return self.figures()[name]["status"].startswith("UP")

    def wait(self, name, *, up, seconds=60):
        """Return after how many seconds the proxy takes it so."""
        began = time.monotonic()
        while time.monotonic() < began + seconds:
            try:
                if self.is_up(name) == up:
                    return time.monotonic() - began
            except OSError:
                pass
            time.sleep(0.1)
        raise Trouble(f"after {seconds} s the proxy still takes {name} to be {'down' if up else 'up'}")
