"""Thin views, one blueprint a noun: read the request, call the core or the store, answer."""
