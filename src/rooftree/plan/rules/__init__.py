"""Tables of rules that a plan obeys; read by :mod:`rooftree.plan.order`."""
