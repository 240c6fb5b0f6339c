"""Papers for the bench, made from results: what a maker reads instead of JSON."""
