"""Spec sheets for old outboard engines."""
