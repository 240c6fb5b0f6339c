"""The rate book and the price arithmetic: what is to be made in, what it costs out. Money is decimal throughout."""
