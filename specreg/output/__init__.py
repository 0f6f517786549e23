"""Writers: a format-neutral record in, text or a file's bytes out. They know no store and no screen."""
