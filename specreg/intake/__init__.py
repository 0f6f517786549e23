"""Readers: files in, core records and faults with file and line out. They know no store and no screen."""
