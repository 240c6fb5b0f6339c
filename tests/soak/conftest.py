"""The soak is run by hand, as a script; pytest leaves it alone."""

collect_ignore_glob = ["*.py"]
