"""A specification and drawing-register manager for works that build heavy machines to order.

Nothing happens at import: no connection, no path lookup, no environment reading. The package stays light so that a
look-up from the command line answers at once.
"""

__version__ = "0.1.0"
