"""Writing an order out as a folder of text, from which it can be taken in again unchanged."""

from __future__ import annotations

from pathlib import Path

from specreg.core.model import Item, State
from specreg.core.numbering import number_key
from specreg.core.record_forms import item_form, sheet_form
from specreg.output.order_folder import order_folder_files, write_order_folder
from specreg.services.office import Office
from specreg.store import drawings, items, orders
from specreg.store.revisions import Revision


def export(office: Office, target: Path, revision: Revision | None = None) -> dict[str, int]:
    """Write the order on the desk, as it stands or as a revision said it; returns how many of what were written."""
    with office.book.reading():
        entry = revision.entry if revision else None
        said: list[Item] = (
            [item for _, item in items.issued_at(office.book, office.order_id, entry)]
            if entry is not None
            else [one.item for one in items.all_now(office.book, office.order_id)]
        )
        # An outsider's re-issued specification may give a deleted number anew: a folder can say a number once only.
        taken = {number_key(item.number) for item in said if item.state is not State.DELETED}
        said = [item for item in said if item.state is not State.DELETED or number_key(item.number) not in taken]
        sheets = drawings.list_of_order(office.book, office.order_id, entry)
        order = orders.by_id(office.book, office.order_id, entry).order
    written_from = [("item", item.number, item_form(order.number, item)[2].hex()) for item in said]
    written_from += [("sheet", sheet.name, sheet_form(sheet)[2].hex()) for sheet in sheets]
    files = order_folder_files(order, said, sheets, written_from)
    write_order_folder(files, target)
    return {"items": len(said), "sheets": len(sheets), "files": len(files)}
