"""The departments: the proof that nothing was lost, a line a department, what changed for each, its extract."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from specreg.services.department_readings import DepartmentsPage
from specreg.tui.commands import bindings_on
from specreg.tui.department_rows import NOTHING, department_columns, department_rows, proof_lines
from specreg.tui.screens.prefaced_screen import PrefacedScreen
from specreg.tui.sources import HeldRows
from specreg.tui.widgets.register_table import RegisterTable

AS_IT_STANDS = 2
"""The view of the order with its open edits; the other one is the revision last issued."""


class DepartmentsScreen(PrefacedScreen):
    """The departments in one of two states; Enter opens the share of one."""

    PAGE = "departments"
    BINDINGS: ClassVar[list[BindingType]] = bindings_on("departments")

    def __init__(self) -> None:
        self._open = False
        self._page: DepartmentsPage | None = None
        super().__init__(RegisterTable((), HeldRows(), empty=NOTHING))

    def page_title(self) -> str:
        """The page's name and the state it shows."""
        if self._page is None:
            return "Departments"
        if self._page.revision:
            return f"Departments · revision {self._page.revision}"
        return f"Departments · as it stands{'' if self._is_issued else ', nothing issued yet'}"

    @property
    def _is_issued(self) -> bool:
        """Whether anything is; asked for as issued, a page without a revision says that nothing is."""
        if self._page and (self._page.revision or not self._open):
            return bool(self._page.revision)
        title = self.house.title_line
        return title is None or bool(title.revision)

    def load(self) -> None:
        """Ask for the departments."""
        self.headed(self.page_title())
        self.offer("extract", offered=False)
        self.reload()

    def reload(self) -> None:
        """Ask again; the cursor stays on its department."""
        open_edits = self._open
        self.ask("departments", lambda: self.readers.mine().departments(open_edits), self._show)

    def _show(self, page: DepartmentsPage) -> None:
        is_first, self._page = self._page is None, page
        self.offer("extract", offered=bool(page.may_extract) and self.house.doer is not None)
        own = next(iter(page.may_extract)) if is_first and len(page.may_extract) == 1 else ""
        self.lay_out(own)

    def lay_out(self, key: str = "") -> None:
        """Paint the proof and the rows, the cursor on a key or where it was."""
        page = self._page
        if page is None:
            return
        row = self.table.row_at_cursor()
        self.say_over(proof_lines(page.reconciliation, self.room, self.most_lines))
        self.table.columns = department_columns(page, self.room)
        self.table.put(HeldRows(department_rows(page, self.room)), key or (row.key if row else ""))

    def action_view(self, view: int) -> None:
        """Show the departments as issued, or as the order stands."""
        self._open = view == AS_IT_STANDS
        self.reload()

    def on_register_table_opened(self, opened: RegisterTable.Opened) -> None:
        """Open the share of the department under the cursor, in the state shown."""
        if self._page is not None:
            self.house.open_share(opened.row.key, not self._page.revision)

    def on_screen_resume(self) -> None:
        """Put the cursor on the department whose share was looked at last."""
        code, self.house.memory.share = self.house.memory.share, ""
        codes = [one.code for one in self._page.departments] if self._page else []
        if code in codes:
            self.table.go_to(codes.index(code))

    def action_extract(self) -> None:
        """Ask how the extract of this department, or of all, is to be made."""
        self.when_loaded(self._extract)

    def _extract(self) -> None:
        row = self.table.row_at_cursor()
        if self._page is not None and row is not None:
            from specreg.tui.screens.extract_dialog import offer_extract

            offer_extract(self.house, self._page, row.key)
