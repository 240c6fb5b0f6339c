"""Tests of the web, which share `wire`."""
