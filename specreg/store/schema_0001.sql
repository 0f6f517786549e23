-- The works book. Three kinds of table:
--   RECORDED  only ever added to, inside an open day-book entry; every row carries its entry and its digest
--   OPEN      edits not yet issued, each item under exactly one note
--   DERIVED   where everything stands now; may be thrown away and rebuilt
-- One clock: day_book.entry. What is said of a thing at revision B is its row with the highest entry <= B's entry.

-- THE WORKS ----------------------------------------------------------------------------------------------------------

CREATE TABLE person (
  code TEXT PRIMARY KEY, name TEXT NOT NULL, login TEXT UNIQUE,
  roles TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(roles)), department TEXT
) STRICT, WITHOUT ROWID;

CREATE TABLE standards (              -- every set of works standards that an order ever stood on
  digest BLOB PRIMARY KEY CHECK (length(digest) = 32), read_at TEXT NOT NULL, source TEXT NOT NULL,
  content TEXT NOT NULL CHECK (json_valid(content))
) STRICT, WITHOUT ROWID;

CREATE TABLE works_order (            -- identity only
  id INTEGER PRIMARY KEY, number TEXT NOT NULL, number_key TEXT NOT NULL UNIQUE,
  numbering TEXT NOT NULL CHECK (numbering IN ('ours', 'theirs'))
) STRICT;

CREATE TABLE day_book (               -- one row an act, opened and closed in one transaction
  entry INTEGER PRIMARY KEY, at TEXT NOT NULL, person TEXT NOT NULL, host TEXT NOT NULL,
  order_id INTEGER REFERENCES works_order, act TEXT NOT NULL, words TEXT NOT NULL DEFAULT '',
  closed INTEGER NOT NULL DEFAULT 0 CHECK (closed IN (0, 1)),
  digest BLOB                         -- chained: the entry before, this row, the digests of the rows it recorded
) STRICT;
CREATE INDEX day_book_order ON day_book (order_id, entry);

-- RECORDED: ORDERS AND ITEMS -----------------------------------------------------------------------------------------

CREATE TABLE order_version (
  order_id INTEGER NOT NULL REFERENCES works_order, entry INTEGER NOT NULL REFERENCES day_book,
  title TEXT NOT NULL, customer TEXT NOT NULL, machines TEXT NOT NULL, spares TEXT NOT NULL, authority TEXT NOT NULL,
  units TEXT NOT NULL CHECK (units IN ('imperial', 'metric')), standards_source TEXT NOT NULL,
  standards BLOB NOT NULL REFERENCES standards, digest BLOB NOT NULL CHECK (length(digest) = 32),
  PRIMARY KEY (order_id, entry)
) STRICT, WITHOUT ROWID;

CREATE TABLE item (id INTEGER PRIMARY KEY, order_id INTEGER NOT NULL REFERENCES works_order) STRICT;

CREATE TABLE note (                   -- identity: an alteration note, or number 0, the first compilation
  id INTEGER PRIMARY KEY, order_id INTEGER NOT NULL REFERENCES works_order, number TEXT NOT NULL,
  UNIQUE (order_id, number)
) STRICT;

CREATE TABLE item_version (
  id INTEGER PRIMARY KEY, item_id INTEGER NOT NULL REFERENCES item, entry INTEGER NOT NULL REFERENCES day_book,
  order_id INTEGER NOT NULL REFERENCES works_order, note_id INTEGER NOT NULL REFERENCES note,
  number_key TEXT NOT NULL, place_key TEXT NOT NULL,
  number TEXT NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('section', 'clause', 'item')),
  layout TEXT NOT NULL CHECK (layout IN ('heading', 'row')), section TEXT NOT NULL,
  title TEXT NOT NULL, text TEXT NOT NULL, off TEXT NOT NULL, per TEXT NOT NULL, machines TEXT NOT NULL,
  hand TEXT NOT NULL, part TEXT NOT NULL, material TEXT NOT NULL, size TEXT NOT NULL, rough_weight TEXT NOT NULL,
  weight TEXT NOT NULL, drawing TEXT NOT NULL, pattern TEXT NOT NULL, supply TEXT NOT NULL, spares TEXT NOT NULL,
  clearance TEXT NOT NULL, safety TEXT NOT NULL, route TEXT NOT NULL, wanted TEXT NOT NULL, remarks TEXT NOT NULL,
  other TEXT NOT NULL CHECK (json_valid(other)), state TEXT NOT NULL CHECK (state IN ('live', 'deleted', 'reserved')),
  reason TEXT NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32),
  UNIQUE (item_id, entry)
) STRICT;
CREATE INDEX item_version_entry ON item_version (order_id, entry);
CREATE INDEX item_version_place ON item_version (order_id, place_key, entry);
CREATE INDEX item_version_number ON item_version (order_id, number_key);

CREATE TABLE item_drawing (           -- which drawings it calls up, as matched against the register at the issue
  item_id INTEGER NOT NULL REFERENCES item, entry INTEGER NOT NULL REFERENCES day_book, place INTEGER NOT NULL,
  written TEXT NOT NULL, drawing_id INTEGER REFERENCES drawing, sheet TEXT NOT NULL,
  digest BLOB NOT NULL CHECK (length(digest) = 32),
  PRIMARY KEY (item_id, entry, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX item_drawing_drawing ON item_drawing (drawing_id, item_id, entry);

CREATE TABLE route (                  -- on a clock of its own: altering a text does not copy the route, nor the reverse
  item_id INTEGER NOT NULL REFERENCES item, entry INTEGER NOT NULL REFERENCES day_book,
  order_id INTEGER NOT NULL REFERENCES works_order, note_id INTEGER NOT NULL REFERENCES note,
  no_action TEXT NOT NULL, because TEXT NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32),
  PRIMARY KEY (item_id, entry)
) STRICT, WITHOUT ROWID;
CREATE INDEX route_entry ON route (order_id, entry);

CREATE TABLE route_step (             -- sealed with its route
  item_id INTEGER NOT NULL REFERENCES item, entry INTEGER NOT NULL REFERENCES day_book, step INTEGER NOT NULL,
  order_id INTEGER NOT NULL REFERENCES works_order, place INTEGER NOT NULL, department TEXT NOT NULL,
  operation TEXT NOT NULL, basis TEXT NOT NULL, extra INTEGER NOT NULL, because TEXT NOT NULL,
  PRIMARY KEY (item_id, entry, step)
) STRICT, WITHOUT ROWID;
CREATE INDEX route_step_department ON route_step (order_id, department, item_id, entry);

CREATE TABLE item_total (             -- numbers off as reckoned at the issue, only where they differ from the last
  item_id INTEGER NOT NULL REFERENCES item, entry INTEGER NOT NULL REFERENCES day_book,
  order_id INTEGER NOT NULL REFERENCES works_order, off INTEGER, for_machines INTEGER, spares INTEGER,
  written TEXT NOT NULL, working TEXT NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32),
  PRIMARY KEY (item_id, entry)
) STRICT, WITHOUT ROWID;
CREATE INDEX item_total_entry ON item_total (order_id, entry);

-- RECORDED: DRAWINGS (works-wide) ------------------------------------------------------------------------------------

CREATE TABLE drawing (                -- identity: every number the works ever drew, verbatim
  id INTEGER PRIMARY KEY, number TEXT NOT NULL UNIQUE, number_key TEXT NOT NULL
) STRICT;
CREATE INDEX drawing_key ON drawing (number_key);

CREATE TABLE sheet_version (          -- what is said of one revision (mark) of one sheet
  drawing_id INTEGER NOT NULL REFERENCES drawing, sheet TEXT NOT NULL, mark TEXT NOT NULL,
  entry INTEGER NOT NULL REFERENCES day_book, rank INTEGER NOT NULL,   -- order of the marks as issued, not as spelt
  "of" TEXT NOT NULL, title TEXT NOT NULL, size TEXT NOT NULL, scale TEXT NOT NULL, hand TEXT NOT NULL,
  date TEXT NOT NULL, stage TEXT NOT NULL, drawn TEXT NOT NULL, checked TEXT NOT NULL, approved TEXT NOT NULL,
  planned TEXT NOT NULL, replaces TEXT NOT NULL, machines TEXT NOT NULL, remarks TEXT NOT NULL,
  "group" TEXT NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32),
  PRIMARY KEY (drawing_id, sheet, mark, entry)
) STRICT, WITHOUT ROWID;
CREATE INDEX sheet_version_entry ON sheet_version (entry);

CREATE TABLE order_drawing (          -- the drawing list of an order; listed = 0 takes a drawing off it again
  order_id INTEGER NOT NULL REFERENCES works_order, drawing_id INTEGER NOT NULL REFERENCES drawing,
  entry INTEGER NOT NULL REFERENCES day_book, listed INTEGER NOT NULL CHECK (listed IN (0, 1)),
  digest BLOB NOT NULL CHECK (length(digest) = 32), PRIMARY KEY (order_id, drawing_id, entry)
) STRICT, WITHOUT ROWID;

-- RECORDED: NOTES, REVISIONS, PAPER ----------------------------------------------------------------------------------

CREATE TABLE note_version (
  note_id INTEGER NOT NULL REFERENCES note, entry INTEGER NOT NULL REFERENCES day_book,
  order_id INTEGER NOT NULL REFERENCES works_order, reason TEXT NOT NULL, urgency TEXT NOT NULL,
  authority TEXT NOT NULL, machines TEXT NOT NULL, words TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('open', 'issued', 'abandoned')),
  digest BLOB NOT NULL CHECK (length(digest) = 32), PRIMARY KEY (note_id, entry)
) STRICT, WITHOUT ROWID;
CREATE INDEX note_version_entry ON note_version (order_id, entry);

CREATE TABLE signature (              -- one person's own act; lapses when what was signed changes
  note_id INTEGER NOT NULL REFERENCES note, entry INTEGER NOT NULL REFERENCES day_book,
  order_id INTEGER NOT NULL REFERENCES works_order,
  signed_as TEXT NOT NULL CHECK (signed_as IN ('drawn', 'checked', 'second check', 'approved')),
  person TEXT NOT NULL, name TEXT NOT NULL, signed_at TEXT NOT NULL,
  signed BLOB NOT NULL CHECK (length(signed) = 32),       -- digest of the note and all edits under it
  digest BLOB NOT NULL CHECK (length(digest) = 32), PRIMARY KEY (note_id, entry)
) STRICT, WITHOUT ROWID;

CREATE TABLE revision (               -- one row an issued revision; everything later than the last row is open
  order_id INTEGER NOT NULL REFERENCES works_order, seq INTEGER NOT NULL, letter TEXT NOT NULL,
  entry INTEGER NOT NULL UNIQUE REFERENCES day_book, issued_on TEXT NOT NULL, issued_by TEXT NOT NULL,
  drawn TEXT NOT NULL, checked TEXT NOT NULL, approved TEXT NOT NULL,
  rows INTEGER NOT NULL, content BLOB NOT NULL CHECK (length(content) = 32), previous BLOB,
  seal BLOB NOT NULL CHECK (length(seal) = 32), seal_form TEXT NOT NULL, digest BLOB NOT NULL CHECK (length(digest) = 32),
  PRIMARY KEY (order_id, seq), UNIQUE (order_id, letter)
) STRICT, WITHOUT ROWID;

CREATE TABLE extract (
  id INTEGER PRIMARY KEY, entry INTEGER NOT NULL REFERENCES day_book,
  order_id INTEGER NOT NULL REFERENCES works_order, department TEXT NOT NULL, number INTEGER NOT NULL,
  seq INTEGER NOT NULL, since_seq INTEGER, lines INTEGER NOT NULL, withdrawn INTEGER NOT NULL, pieces INTEGER NOT NULL,
  content BLOB NOT NULL CHECK (length(content) = 32), seal TEXT NOT NULL UNIQUE,
  digest BLOB NOT NULL CHECK (length(digest) = 32),
  UNIQUE (order_id, department, number), UNIQUE (order_id, department, seq),
  FOREIGN KEY (order_id, seq) REFERENCES revision (order_id, seq)
) STRICT;

CREATE TABLE fault_passed (           -- an error let pass by name, for a reason
  order_id INTEGER NOT NULL REFERENCES works_order, entry INTEGER NOT NULL REFERENCES day_book, fault TEXT NOT NULL,
  subject TEXT NOT NULL, text TEXT NOT NULL, person TEXT NOT NULL, reason TEXT NOT NULL,
  digest BLOB NOT NULL CHECK (length(digest) = 32), PRIMARY KEY (order_id, fault, subject, entry)
) STRICT, WITHOUT ROWID;

-- OPEN: EDITS NOT YET ISSUED -----------------------------------------------------------------------------------------

CREATE TABLE open_item (
  item_id INTEGER PRIMARY KEY REFERENCES item, order_id INTEGER NOT NULL REFERENCES works_order,
  note_id INTEGER NOT NULL REFERENCES note, number_key TEXT NOT NULL, place_key TEXT NOT NULL,
  number TEXT NOT NULL, kind TEXT NOT NULL, layout TEXT NOT NULL, section TEXT NOT NULL,
  title TEXT NOT NULL, text TEXT NOT NULL, off TEXT NOT NULL, per TEXT NOT NULL, machines TEXT NOT NULL,
  hand TEXT NOT NULL, part TEXT NOT NULL, material TEXT NOT NULL, size TEXT NOT NULL, rough_weight TEXT NOT NULL,
  weight TEXT NOT NULL, drawing TEXT NOT NULL, pattern TEXT NOT NULL, supply TEXT NOT NULL, spares TEXT NOT NULL,
  clearance TEXT NOT NULL, safety TEXT NOT NULL, route TEXT NOT NULL, wanted TEXT NOT NULL, remarks TEXT NOT NULL,
  other TEXT NOT NULL CHECK (json_valid(other)), state TEXT NOT NULL, reason TEXT NOT NULL,
  digest BLOB NOT NULL CHECK (length(digest) = 32)
) STRICT;
CREATE INDEX open_item_note ON open_item (note_id, place_key);

CREATE TABLE open_route (
  item_id INTEGER PRIMARY KEY REFERENCES item, order_id INTEGER NOT NULL REFERENCES works_order,
  note_id INTEGER NOT NULL REFERENCES note, no_action TEXT NOT NULL, because TEXT NOT NULL,
  steps TEXT NOT NULL CHECK (json_valid(steps)), digest BLOB NOT NULL CHECK (length(digest) = 32)
) STRICT;
CREATE INDEX open_route_note ON open_route (note_id);

CREATE TABLE open_edit (              -- one act of editing, for undo and redo; forgotten when its note is issued
  id INTEGER PRIMARY KEY, order_id INTEGER NOT NULL REFERENCES works_order, note_id INTEGER NOT NULL REFERENCES note,
  person TEXT NOT NULL, at TEXT NOT NULL, words TEXT NOT NULL, undone INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX open_edit_person ON open_edit (order_id, person, id);
CREATE TABLE open_change (            -- what an edit did to one item; NULL content = not open under the note
  edit_id INTEGER NOT NULL REFERENCES open_edit ON DELETE CASCADE, item_id INTEGER NOT NULL REFERENCES item,
  before TEXT CHECK (before IS NULL OR json_valid(before)), after TEXT CHECK (after IS NULL OR json_valid(after)),
  PRIMARY KEY (edit_id, item_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX open_change_item ON open_change (item_id, edit_id);

CREATE TABLE set_aside (              -- rows of a source that could not be taken in: kept, listed, never dropped
  id INTEGER PRIMARY KEY, order_id INTEGER NOT NULL REFERENCES works_order, source TEXT NOT NULL, file TEXT NOT NULL,
  line INTEGER NOT NULL, text TEXT NOT NULL, reason TEXT NOT NULL
) STRICT;
CREATE INDEX set_aside_order ON set_aside (order_id, id);

-- DERIVED: WHERE EVERYTHING STANDS NOW -------------------------------------------------------------------------------

CREATE TABLE derived_form (form INTEGER NOT NULL) STRICT;   -- by which rules the tables below were filled; one row
INSERT INTO derived_form (form) VALUES (0);

CREATE TABLE item_now (
  item_id INTEGER PRIMARY KEY, order_id INTEGER NOT NULL, note_id INTEGER,   -- the open note, NULL when as issued
  version_id INTEGER, number_key TEXT NOT NULL, place_key TEXT NOT NULL,
  number TEXT NOT NULL, kind TEXT NOT NULL, layout TEXT NOT NULL, section TEXT NOT NULL,
  title TEXT NOT NULL, text TEXT NOT NULL, off TEXT NOT NULL, per TEXT NOT NULL, machines TEXT NOT NULL,
  hand TEXT NOT NULL, part TEXT NOT NULL, material TEXT NOT NULL, size TEXT NOT NULL, rough_weight TEXT NOT NULL,
  weight TEXT NOT NULL, drawing TEXT NOT NULL, pattern TEXT NOT NULL, supply TEXT NOT NULL, spares TEXT NOT NULL,
  clearance TEXT NOT NULL, safety TEXT NOT NULL, route TEXT NOT NULL, wanted TEXT NOT NULL, remarks TEXT NOT NULL,
  other TEXT NOT NULL, state TEXT NOT NULL, reason TEXT NOT NULL, digest BLOB NOT NULL
) STRICT;
-- An outsider who renumbers may give a deleted item's number to another; in orders of our own a trigger forbids it.
CREATE UNIQUE INDEX item_now_number ON item_now (order_id, number_key) WHERE state <> 'deleted';
CREATE INDEX item_now_any_number ON item_now (order_id, number_key);
CREATE INDEX item_now_place ON item_now (order_id, place_key);
CREATE INDEX item_now_note ON item_now (note_id) WHERE note_id IS NOT NULL;

CREATE TABLE route_now (
  item_id INTEGER PRIMARY KEY, order_id INTEGER NOT NULL, note_id INTEGER, no_action TEXT NOT NULL,
  because TEXT NOT NULL, steps TEXT NOT NULL, digest BLOB NOT NULL
) STRICT;
CREATE INDEX route_now_order ON route_now (order_id);

CREATE TABLE call_now (               -- which drawings each item calls up now
  item_id INTEGER NOT NULL, place INTEGER NOT NULL, written TEXT NOT NULL, drawing_id INTEGER, sheet TEXT NOT NULL,
  PRIMARY KEY (item_id, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX call_now_drawing ON call_now (drawing_id, item_id);

CREATE TABLE sheet_now (              -- the current mark of every sheet
  drawing_id INTEGER NOT NULL, sheet TEXT NOT NULL, mark TEXT NOT NULL, entry INTEGER NOT NULL, rank INTEGER NOT NULL,
  PRIMARY KEY (drawing_id, sheet)
) STRICT, WITHOUT ROWID;

CREATE VIRTUAL TABLE item_words USING fts5 (number, title, words, content = '', detail = column, columnsize = 0,
  prefix = '2', tokenize = "unicode61 remove_diacritics 0");
INSERT INTO item_words (item_words, rank) VALUES ('automerge', 16), ('crisismerge', 256);
CREATE VIRTUAL TABLE item_word_list USING fts5vocab (item_words, 'row');
CREATE VIRTUAL TABLE drawing_words USING fts5 (number, title, words, content = '', detail = column, columnsize = 0,
  prefix = '2', tokenize = "unicode61 remove_diacritics 0");
CREATE VIRTUAL TABLE drawing_word_list USING fts5vocab (drawing_words, 'row');

-- VIEWS for any SQLite tool ------------------------------------------------------------------------------------------

CREATE VIEW items_now AS
  SELECT o.number AS "order", i.number, i.title, i.state, i.off, i.per, i.material, i.size, i.drawing, i.remarks,
    n.number AS open_note
  FROM item_now i JOIN works_order o ON o.id = i.order_id LEFT JOIN note n ON n.id = i.note_id;

CREATE VIEW items_issued AS
  SELECT o.number AS "order", r.letter AS revision, v.number, v.title, v.state, v.off, v.per, v.material, v.size,
    v.drawing
  FROM revision r JOIN works_order o ON o.id = r.order_id
    JOIN item_version v ON v.order_id = r.order_id AND v.entry <= r.entry
  WHERE NOT EXISTS (SELECT 1 FROM item_version n WHERE n.item_id = v.item_id AND n.entry > v.entry AND n.entry <= r.entry);

CREATE VIEW shares_issued AS
  SELECT o.number AS "order", r.letter AS revision, s.department, v.number, v.title, s.step, s.operation, s.basis, s.extra,
    s.because
  FROM revision r JOIN works_order o ON o.id = r.order_id
    JOIN route t ON t.order_id = r.order_id AND t.entry <= r.entry
      AND NOT EXISTS (SELECT 1 FROM route n WHERE n.item_id = t.item_id AND n.entry > t.entry AND n.entry <= r.entry)
    JOIN route_step s ON s.item_id = t.item_id AND s.entry = t.entry
    JOIN item_version v ON v.item_id = t.item_id AND v.entry <= r.entry
      AND NOT EXISTS (SELECT 1 FROM item_version n WHERE n.item_id = v.item_id AND n.entry > v.entry AND n.entry <= r.entry)
  WHERE v.state = 'live';

CREATE VIEW drawings_now AS
  SELECT d.number, v.sheet, v.mark AS revision, v.title, v.stage, v.date, v.drawn, v.checked, v.approved
  FROM sheet_now c JOIN drawing d ON d.id = c.drawing_id
    JOIN sheet_version v ON v.drawing_id = c.drawing_id AND v.sheet = c.sheet AND v.mark = c.mark AND v.entry = c.entry;
