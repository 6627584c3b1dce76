"""Zone pressures: how a buffer space is joined to house and outdoors."""
