#!/bin/sh
# Makes an environment, installs, prints the estimate of an invented job, and serves on loopback.
# HOST and PORT say where; 127.0.0.1 and 8000 unless set. PLEATWRIGHT_RATES names the rate book; the example's unless set.
set -eu
. "$(dirname -- "$0")/environment.sh"

make_environment requirements.txt
PLEATWRIGHT_RATES=${PLEATWRIGHT_RATES:-$project/deploy/rates.example.toml}
export PLEATWRIGHT_RATES
"$environment/bin/pleatwright" estimate "$project/openapi/examples/estimate.json" --rates "$PLEATWRIGHT_RATES"

host=${HOST:-127.0.0.1}
port=${PORT:-8000}
"$environment/bin/python" - "$host" "$port" <<'PYTHON' || stop "Port $port of $host is taken. Set PORT to another."
import socket
import sys

with socket.socket() as probe:
    probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        probe.bind((sys.argv[1], int(sys.argv[2])))
    except OSError:
        sys.exit(1)
PYTHON
echo
echo "Serving at http://$host:$port (the contract is at /openapi.json). Stop with Ctrl-C."
exec "$environment/bin/pleatwright" serve --host "$host" --port "$port"
