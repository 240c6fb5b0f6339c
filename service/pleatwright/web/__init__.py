"""The service over HTTP. The only room that knows HTTP."""
