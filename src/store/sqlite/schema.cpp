#include "store/sqlite/schema.hpp"

#include <map>
#include <utility>

namespace lampside::store::sqlite {
namespace {

/// Of two bodies of one entry: they differ in nothing but words, and in `name_out`.
std::string only_words_differ(const std::string& a, const std::string& b) {
  return "(SELECT count(*) FROM json_each(" + a + ") WHERE key <> 'name_out') = (SELECT count(*) FROM json_each(" + b +
         R"sql() WHERE key <> 'name_out')
  AND NOT EXISTS (SELECT 1 FROM json_each()sql" +
         a + R"sql() AS one WHERE one.key <> 'name_out' AND NOT EXISTS (SELECT 1 FROM json_each()sql" + b +
         R"sql() AS two
    WHERE two.key = one.key AND two.type = one.type AND (two.value IS one.value OR (one.type = 'text'
      AND one.key NOT IN ('id', 'litter', 'kind', 'at', 'written', 'about', 'corrects')))))
)sql";
}

// The guards work on every statement of every program that opens the file, ours or not:
//  - RAISE(IGNORE) passes over a row that is already there word for word (a replay), RAISE(ABORT) refuses all else;
//  - the guard before INSERT is what stops INSERT OR REPLACE, which removes the old row without any DELETE trigger;
//  - sequence has no gaps, so the highest one is the number of entries;
//  - the one change they let through takes words away: a body that says so (name_out), with every other field, every
//    number, time and pointer as it was; whichever of two such bodies stands here already stays, so that journals join.
// The checks keep the columns beside the body from ever saying something else than the body.
// Out of their reach: DROP, and a program that turns triggers off. `bring_up_to_date` puts the guards right again.
const std::string kLayout2 = R"sql(
CREATE TABLE entry (
  sequence INTEGER PRIMARY KEY,
  id TEXT NOT NULL UNIQUE,
  litter TEXT NOT NULL,
  kind TEXT NOT NULL,
  body TEXT NOT NULL,
  CHECK (id = json_extract(body, '$.id') AND litter = json_extract(body, '$.litter')
         AND kind = json_extract(body, '$.kind'))
) STRICT;
CREATE TRIGGER entry_no_overwrite BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id OR sequence = NEW.sequence)
BEGIN
  SELECT RAISE(ABORT, 'this id is already in the journal with other content')
    WHERE NOT EXISTS (SELECT 1 FROM entry WHERE id = NEW.id AND (body = NEW.body
      OR (coalesce(json_extract(body, '$.name_out'), json_extract(NEW.body, '$.name_out')) IS NOT NULL
          AND )sql" + only_words_differ("entry.body", "NEW.body") +
                             R"sql()));
  SELECT RAISE(IGNORE);
END;
CREATE TRIGGER entry_in_order AFTER INSERT ON entry
WHEN NEW.sequence IS NOT 1 + coalesce((SELECT max(sequence) FROM entry WHERE sequence < NEW.sequence), 0)
BEGIN SELECT RAISE(ABORT, 'entries are numbered without gaps'); END;
CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry
WHEN NOT (NEW.sequence = OLD.sequence AND NEW.id = OLD.id AND NEW.litter = OLD.litter AND NEW.kind = OLD.kind
  AND json_extract(NEW.body, '$.name_out') IS NOT NULL AND )sql" +
                             only_words_differ("OLD.body", "NEW.body") + R"sql()
BEGIN SELECT RAISE(ABORT, 'an entry is never changed: append a correction'); END;
CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never removed: append a strike'); END;

CREATE TABLE setting (
  name TEXT PRIMARY KEY,
  value BLOB NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE layout (
  version INTEGER PRIMARY KEY,
  since TEXT NOT NULL
) STRICT;
CREATE TRIGGER layout_only_upwards BEFORE INSERT ON layout
WHEN EXISTS (SELECT 1 FROM layout WHERE version >= NEW.version)
BEGIN SELECT RAISE(ABORT, 'a layout is only ever followed by a newer one'); END;
CREATE TRIGGER layout_no_update BEFORE UPDATE ON layout
BEGIN SELECT RAISE(ABORT, 'the history of layouts is never changed'); END;
CREATE TRIGGER layout_no_delete BEFORE DELETE ON layout
BEGIN SELECT RAISE(ABORT, 'the history of layouts is never changed'); END;
)sql";

// Version 3 adds who the families are. No guard stands on it: these lines may be changed and erased.
const std::string kAfter2To3 = R"sql(
CREATE TABLE person (
  family TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  phone TEXT NOT NULL,
  email TEXT NOT NULL,
  address TEXT NOT NULL,
  note TEXT NOT NULL,
  keep_until TEXT,
  consent INTEGER NOT NULL,
  CHECK (family <> '')
) STRICT;
)sql";
const std::string kLayout3 = kLayout2 + kAfter2To3;

const std::string kMark3 = R"sql(
INSERT INTO layout (version, since) VALUES (3, strftime('%Y-%m-%dT%H:%M:%SZ', 'now'));
PRAGMA application_id = 1281453424;
PRAGMA user_version = 3;
)sql";
static_assert(kApplicationId == 1281453424 && kLayoutVersion == 3);

// Version 1 had one table, entry(sequence, id, body), guarded against UPDATE and DELETE only. Its order is kept, its
// numbers may have gaps and are not.
const std::string kBefore1To2 = R"sql(
DROP TRIGGER IF EXISTS entry_no_update;
DROP TRIGGER IF EXISTS entry_no_delete;
ALTER TABLE entry RENAME TO entry_of_version_1;
)sql";
const std::string kAfter1To2 = R"sql(
INSERT INTO entry (id, litter, kind, body)
  SELECT id, json_extract(body, '$.litter'), json_extract(body, '$.kind'), body FROM entry_of_version_1 ORDER BY sequence;
DROP TABLE entry_of_version_1;
)sql";

struct Object {
  std::string type, sql;
  bool operator==(const Object&) const = default;
};

std::map<std::string, Object> objects_of(Database& database) {
  std::map<std::string, Object> objects;
  Statement statement{database, "SELECT name, type, sql FROM sqlite_schema WHERE type IN ('table', 'trigger')"};
  while (statement.step()) objects[statement.text(0)] = {statement.text(1), statement.text(2)};
  return objects;
}

/// How this file differs from the present layout: the name and the SQL that should stand there, "" where nothing
/// should.
std::map<std::string, Object> deviations(Database& database) {
  Database model = Database::in_memory();
  model.run(kLayout3);
  auto wanted = objects_of(model);
  for (const auto& [name, object] : objects_of(database)) {
    const auto match = wanted.find(name);
    if (match != wanted.end() && match->second == object) {
      wanted.erase(match);
    } else if (match == wanted.end() && object.type == "trigger") {
      wanted[name] = {object.type, ""};  // a trigger of somebody else's would act on every entry of ours
    }
  }
  return wanted;
}

std::string quoted(const std::string& name) {
  std::string text = "\"";
  for (const char c : name) text += c == '"' ? std::string{"\"\""} : std::string{c};
  return text + "\"";
}

[[noreturn]] void refuse_damaged(const std::string& what) {
  throw Failure{{"STORE_DAMAGED", what,
                 "stop Lampside, put the damaged file aside (do not delete it), and put your last copy back"}};
}

void put_guards_right(Database& database) {
  for (const auto& [name, object] : deviations(database)) {
    if (object.type != "trigger")
      refuse_damaged("the table " + name + " in the journal file is not as Lampside made it");
    database.run("DROP TRIGGER IF EXISTS " + quoted(name) + ";" + object.sql);
  }
}

}  // namespace

std::int64_t layout_version(Database& database) {
  // In one statement, so that all three are of one moment: another program may be making the layout just now.
  Statement header{database,
                   "SELECT application_id, user_version, (SELECT count(*) FROM sqlite_schema) "
                   "FROM pragma_application_id, pragma_user_version"};
  header.step();
  const std::int64_t application = header.integer(0);
  const std::int64_t version = header.integer(1);
  const bool empty = header.integer(2) == 0;
  if (empty && application == 0 && version == 0) return 0;
  if (application != kApplicationId) {
    throw Failure{{"STORE_OPEN", "this file is a database of another program, not a journal",
                   "choose another data folder; the file was not touched"}};
  }
  if (version > kLayoutVersion) {
    throw Failure{{"STORE_NEWER",
                   "this journal was made by a newer Lampside (layout " + std::to_string(version) +
                       "; this one knows " + std::to_string(kLayoutVersion) + ")",
                   "update Lampside on this computer; the journal was not touched"}};
  }
  if (version < 1 || empty) refuse_damaged("the journal file has lost its layout");
  return version;
}

void check_sound(Database& database) {
  const std::string fault = database.fault();
  if (!fault.empty()) refuse_damaged("the journal file is damaged (" + fault + ")");
}

void bring_up_to_date(Database& database) {
  if (layout_version(database) == kLayoutVersion && deviations(database).empty()) return;
  Transaction transaction{database};
  // Again, now that nobody else can write: another program may have just made or upgraded it.
  switch (layout_version(database)) {
    case 0:
      database.run(kLayout3 + kMark3);
      break;
    case 1:
      database.run(kBefore1To2 + kLayout2 + kAfter1To2 + kAfter2To3 + kMark3);
      break;
    case 2:
      database.run(kAfter2To3 + kMark3);
      break;
    default:
      break;
  }
  put_guards_right(database);
  transaction.commit();
}

}  // namespace lampside::store::sqlite
