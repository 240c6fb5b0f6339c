"""Tests of the bench page, in a browser."""
