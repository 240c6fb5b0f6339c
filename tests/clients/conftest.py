"""What is here needs generated code: run.py runs it, and pytest leaves it alone."""

collect_ignore_glob = ["*.py"]
