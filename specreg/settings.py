"""What a run of the program was told by options and environment, and where its own folders are. Read when asked, not at
import."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Settings:
    """Book, order and person for one run; empty strings where nothing was said."""

    book: str = ""
    order: str = ""
    person: str = ""


def settings_of(book: str | None, order: str | None, person: str | None, environ: Mapping[str, str]) -> Settings:
    """Options win over SPECREG_BOOK and SPECREG_ORDER."""
    return Settings(
        book=book or environ.get("SPECREG_BOOK", ""),
        order=order or environ.get("SPECREG_ORDER", ""),
        person=person or "",
    )


def login_name() -> str:
    """The login of whoever runs the program, from the system and not from the environment, which anybody can set."""
    try:
        import pwd

        return pwd.getpwuid(os.getuid()).pw_name
    except (ImportError, KeyError):
        import getpass

        return getpass.getuser()


def shipped_folder(name: str) -> Path:
    """A folder that ships with the program (`shared`, `sample_spec`): inside the package when installed from a wheel,
    beside it in a checkout."""
    package = Path(__file__).resolve().parent
    inside = package / name
    return inside if inside.is_dir() else package.parent / name
