# Makes the Python environment that run.sh and test.sh work in. Read by them, not run by itself.
#
# PLEATWRIGHT_PYTHON  the Python to use; else the newest of 3.11 and later that is on the PATH
# PLEATWRIGHT_ENV     the folder of the environment; else .venv at the top of this project

project=$(CDPATH='' cd -- "$(dirname -- "$0")/.." && pwd)
environment=${PLEATWRIGHT_ENV:-$project/.venv}

stop() {
    printf '%s\n' "$*" >&2
    exit 2
}

find_python() {
    for candidate in ${PLEATWRIGHT_PYTHON:-python3 python3.14 python3.13 python3.12 python3.11}; do
        if "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            printf '%s\n' "$candidate"
            return
        fi
    done
    stop "Python 3.11 or later is needed and was not found. Install it, or name it in PLEATWRIGHT_PYTHON."
}

# make_environment REQUIREMENTS OPTIONS...: installs the hashed requirements, then this project with the options.
make_environment() {
    requirements=$1
    shift
    python=$(find_python) || exit 2
    "$python" -c 'import ensurepip, venv' 2>/dev/null ||
        stop "The venv module of $python is missing. On Debian: apt-get install python3-venv."
    if ! "$environment/bin/python" -c 'import pip' 2>/dev/null; then
        echo "Making an environment in $environment"
        "$python" -m venv "$environment" || stop "The environment could not be made in $environment."
    fi
    echo "Installing, which takes a minute the first time"
    "$environment/bin/python" -m pip install --quiet --disable-pip-version-check --require-hashes \
        --requirement "$project/deploy/$requirements" ||
        stop "The requirements could not be installed. Is this machine connected to a Python package index?"
    "$environment/bin/python" -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation \
        "$@" "$project" || stop "Pleatwright itself could not be installed."
}
