"""The pages: each view parses what was sent, calls one action and renders."""

from rooftree.web.app import create_app, serve

__all__ = ["create_app", "serve"]
