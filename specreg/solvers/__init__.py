"""Reckonings that need a heavy library: each loads it when it is used. They know no store and no screen."""
