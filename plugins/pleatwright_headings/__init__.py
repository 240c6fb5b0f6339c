"""The heading styles that come with the service, one module and one entry point each.

Limits and usual figures are our choice unless a source is named; each can be overridden in a request.
"""
