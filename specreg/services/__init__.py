"""The tasks of the office, one module a task; they hold the permissions and join store, intake and output."""
