"""The works book: one SQLite file. Nothing outside this package knows SQL, row numbers or the word index."""
