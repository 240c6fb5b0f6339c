"""Heading styles of Thornfield headings, an invented house."""
