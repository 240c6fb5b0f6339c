"""What is here needs npm and a browser: run.py runs it, and pytest leaves it alone."""

collect_ignore_glob = ["*.py"]
