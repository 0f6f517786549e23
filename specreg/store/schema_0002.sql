-- The second form of a works book: what is placed with suppliers.

CREATE TABLE purchase (               -- an item, or the material for it, placed with a supplier, or taken back
  item_id INTEGER NOT NULL REFERENCES item, entry INTEGER NOT NULL REFERENCES day_book,
  order_id INTEGER NOT NULL REFERENCES works_order,
  number TEXT NOT NULL,               -- the item's number at that time
  purchase TEXT NOT NULL, supplier TEXT NOT NULL, placed_on TEXT NOT NULL, due TEXT NOT NULL,
  revision TEXT NOT NULL,             -- the revision quoted; empty before the first
  pieces INTEGER,                     -- NULL: as much as is required; below nought: taken back
  title TEXT NOT NULL, part TEXT NOT NULL, material TEXT NOT NULL, size TEXT NOT NULL, drawing TEXT NOT NULL,  -- as quoted
  remarks TEXT NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32), PRIMARY KEY (item_id, entry)
) STRICT, WITHOUT ROWID;
CREATE INDEX purchase_of_order ON purchase (order_id, entry);

CREATE VIEW purchases AS
  SELECT o.number AS "order", p.number, p.purchase, p.supplier, p.placed_on, p.due, p.revision, p.pieces, p.title, p.part,
    p.material, p.size, p.drawing, p.remarks
  FROM purchase p JOIN works_order o ON o.id = p.order_id;
