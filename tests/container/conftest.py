"""What is here is run as scripts; pytest leaves it alone."""

collect_ignore_glob = ["*.py"]
