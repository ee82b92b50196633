"""Photographs of the demo, drawn by code: relief, colour and gloss under one lamp."""
