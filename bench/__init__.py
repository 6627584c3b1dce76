"""Speed and size, measured on this machine and held against their limits: ``python -m bench``."""
