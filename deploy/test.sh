#!/bin/sh
# Makes an environment and runs every test. Arguments go to pytest.
set -eu
. "$(dirname -- "$0")/environment.sh"

make_environment requirements-test.txt --editable
cd "$project"
exec "$environment/bin/python" -m pytest "$@"
