"""Speed is measured by hand, with run.py, on a machine that does nothing else; pytest leaves it alone."""

collect_ignore_glob = ["*.py"]
