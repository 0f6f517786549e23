"""What is imported when: nothing of the screens before they are opened, nothing heavy for the first page."""

from __future__ import annotations

import inspect
import subprocess
import sys

from specreg.tui.app import SpecregApp


def _modules_after(statement: str) -> set[str]:
    """The modules that a fresh interpreter has loaded after a statement."""
    code = f"import sys\n{statement}\nprint('\\n'.join(sys.modules))"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    return set(run.stdout.split())


def test_the_door_loads_no_screens() -> None:
    loaded = _modules_after("import specreg.tui.run")
    assert "specreg.tui.run" in loaded
    assert not [name for name in loaded if name.partition(".")[0] in ("textual", "rich")]


def test_the_first_page_loads_only_what_it_needs() -> None:
    loaded = _modules_after("import specreg.tui.app")
    assert "specreg.tui.screens.desk" in loaded
    for heavy in ("textual.widgets._markdown", "textual.widgets._text_area", "textual.widgets._data_table", "sqlite3",
                  "markdown_it", "click", "rapidfuzz"):  # fmt: skip
        assert heavy not in loaded
    for later in ("find", "item", "item_list", "index", "help", "dialogs"):
        assert f"specreg.tui.screens.{later}" not in loaded


def test_the_app_class_stays_small() -> None:
    assert len(inspect.getsource(SpecregApp).splitlines()) <= 150
