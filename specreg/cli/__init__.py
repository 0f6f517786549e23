"""The commands. Each family is a module, loaded when one of its commands is used; none of them decides anything."""
