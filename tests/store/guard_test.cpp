// The file itself refuses to change or lose an entry, whoever asks: every attack here is plain SQL from outside.
#include <gtest/gtest.h>

#include <span>

#include "support.hpp"

namespace lampside::store::test {
namespace {

// Every one is well-formed and would change the file if the guards were not there; the twin below proves it.
// {ID}: an id in the journal; {BODY}: its line; {OTHER}: another line with that id; {NEW}, {NEWBODY}: an entry not yet
// there.
const std::vector<std::string> kAttacks{
    "UPDATE entry SET body = '{OTHER}' WHERE id = '{ID}'",
    "UPDATE entry SET sequence = sequence + 100",
    "UPDATE OR REPLACE entry SET sequence = 2 WHERE sequence = 1",
    "UPDATE OR IGNORE entry SET body = '{OTHER}' WHERE id = '{ID}'",
    "WITH x AS (SELECT '{OTHER}' AS b) UPDATE entry SET body = x.b FROM x WHERE id = '{ID}'",
    "DELETE FROM entry",
    "DELETE FROM entry WHERE id = '{ID}'",
    "INSERT OR REPLACE INTO entry (id, litter, kind, body) VALUES ('{ID}', 'juniper-2026', 'weight', '{OTHER}')",
    "REPLACE INTO entry (id, litter, kind, body) VALUES ('{ID}', 'juniper-2026', 'weight', '{OTHER}')",
    // The same content again, but as the newest entry: the order of arrival is part of the record.
    "REPLACE INTO entry (id, litter, kind, body) VALUES ('{ID}', 'juniper-2026', 'weight', '{BODY}')",
    // Another entry in the place of the first one.
    "INSERT OR REPLACE INTO entry (sequence, id, litter, kind, body) VALUES (1, '{NEW}', 'juniper-2026', 'weight', "
    "'{NEWBODY}')",
    "INSERT OR REPLACE INTO entry (rowid, id, litter, kind, body) VALUES (1, '{NEW}', 'juniper-2026', 'weight', "
    "'{NEWBODY}')",
    "INSERT INTO entry (id, litter, kind, body) VALUES ('{ID}', 'juniper-2026', 'weight', '{OTHER}') "
    "ON CONFLICT (id) DO UPDATE SET body = excluded.body",
    // What says that a name was taken out may change nothing but words.
    "UPDATE entry SET body = json_set('{OTHER}', '$.name_out', '2026-03-02') WHERE id = '{ID}'",
    "UPDATE entry SET body = json_set(body, '$.name_out', '2026-03-02', '$.at', '2020-01-01T00:00:00Z') WHERE id = "
    "'{ID}'",
    "UPDATE entry SET body = json_set(body, '$.name_out', '2026-03-02', '$.more', 1) WHERE id = '{ID}'",
    "INSERT OR REPLACE INTO entry (id, litter, kind, body) VALUES ('{ID}', 'juniper-2026', 'weight', "
    "json_set('{OTHER}', '$.name_out', '2026-03-02'))",
    // Out of order: before the first, or with a gap, so that the highest number is no longer how many there are.
    "INSERT INTO entry (sequence, id, litter, kind, body) VALUES (-5, '{NEW}', 'juniper-2026', 'weight', '{NEWBODY}')",
    "INSERT INTO entry (sequence, id, litter, kind, body) VALUES (0, '{NEW}', 'juniper-2026', 'weight', '{NEWBODY}')",
    "INSERT OR IGNORE INTO entry (sequence, id, litter, kind, body) VALUES (9, '{NEW}', 'juniper-2026', 'weight', "
    "'{NEWBODY}')",
    // By way of a trigger of one's own.
    "CREATE TEMP TRIGGER mine AFTER INSERT ON setting BEGIN DELETE FROM entry; END; "
    "INSERT INTO setting VALUES ('x', x'00')",
    "UPDATE layout SET version = 1",
    "DELETE FROM layout",
    "INSERT OR REPLACE INTO layout (version, since) VALUES (2, 'yesterday')",
    "INSERT INTO layout (version, since) VALUES (1, 'yesterday')",
};

std::string filled_in(std::string sql) {
  const std::vector<std::pair<std::string, std::string>> places{{"{ID}", uuid(1)},
                                                                {"{BODY}", record::encode_line(weight(1))},
                                                                {"{OTHER}", record::encode_line(weight(1, 555))},
                                                                {"{NEWBODY}", record::encode_line(weight(7))},
                                                                {"{NEW}", uuid(7)}};
  for (const auto& [place, value] : places) {
    for (auto at = sql.find(place); at != std::string::npos; at = sql.find(place)) sql.replace(at, place.size(), value);
  }
  return sql;
}

std::string content(RawDatabase& raw) {
  return raw.rows("SELECT * FROM entry ORDER BY sequence") + raw.rows("SELECT * FROM layout");
}

/// Runs an attack on a new journal of three entries; true if the record was changed by it.
bool changes_the_record(const std::string& attack, bool guarded) {
  const TempFolder folder;
  if (!opened(folder.path())->append(std::vector{weight(1), weight(2), weight(3)}))
    throw std::runtime_error("no journal");
  RawDatabase raw{folder.database()};
  if (!guarded) {
    for (const char* guard : {"entry_no_overwrite", "entry_in_order", "entry_no_update", "entry_no_delete",
                              "layout_only_upwards", "layout_no_update", "layout_no_delete"}) {
      raw.rows(std::string("DROP TRIGGER ") + guard);
    }
  }
  const std::string before = content(raw);
  raw.run(filled_in(attack));
  return content(raw) != before;
}

TEST(Guards, NoStatementChangesTheRecord) {
  for (const auto& attack : kAttacks) EXPECT_FALSE(changes_the_record(attack, true)) << filled_in(attack);
}

TEST(Guards, TwinWithoutThemEveryAttackSucceeds) {
  for (const auto& attack : kAttacks) EXPECT_TRUE(changes_the_record(attack, false)) << filled_in(attack);
}

TEST(Guards, APragmaDoesNotOpenThem) {
  for (const char* pragma : {"PRAGMA recursive_triggers = OFF", "PRAGMA ignore_check_constraints = ON",
                             "PRAGMA foreign_keys = OFF", "PRAGMA defer_foreign_keys = ON"}) {
    for (const auto& attack : kAttacks) {
      EXPECT_FALSE(changes_the_record(std::string(pragma) + ";" + attack, true)) << pragma << ": " << filled_in(attack);
    }
  }
}

TEST(Guards, TellWhatToDoInstead) {
  const TempFolder folder;
  ASSERT_TRUE(opened(folder.path())->append(std::vector{weight(1)}));
  RawDatabase raw{folder.database()};
  EXPECT_EQ(raw.run("DELETE FROM entry"), "an entry is never removed: append a strike");
  EXPECT_EQ(raw.run("UPDATE entry SET body = body"), "an entry is never changed: append a correction");
}

TEST(Guards, TheColumnsCannotSayOtherThanTheLine) {
  const TempFolder folder;
  ASSERT_TRUE(opened(folder.path())->append(std::vector{weight(1)}));
  RawDatabase raw{folder.database()};
  const std::string line = record::encode_line(weight(2));
  const auto insert = [&](const std::string& id, const std::string& litter, const std::string& kind,
                          const std::string& body) {
    return raw.run("INSERT INTO entry (id, litter, kind, body) VALUES ('" + id + "','" + litter + "','" + kind + "','" +
                   body + "')");
  };
  EXPECT_NE(insert(uuid(3), "juniper-2026", "weight", line), "");
  EXPECT_NE(insert(uuid(2), "another", "weight", line), "");
  EXPECT_NE(insert(uuid(2), "juniper-2026", "birth", line), "");
  EXPECT_NE(insert(uuid(2), "juniper-2026", "weight", "{"), "");
  EXPECT_EQ(insert(uuid(2), "juniper-2026", "weight", line), "");
}

TEST(Guards, ArePutRightAtTheNextOpening) {
  const TempFolder folder;
  ASSERT_TRUE(opened(folder.path())->append(std::vector{weight(1)}));
  const std::string triggers = "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' ORDER BY name";
  std::string before;
  {
    RawDatabase raw{folder.database()};
    before = raw.rows(triggers);
    raw.rows(
        "DROP TRIGGER entry_no_delete; DROP TRIGGER entry_no_update;"
        "CREATE TRIGGER entry_no_update AFTER UPDATE ON entry BEGIN SELECT 1; END;"
        "CREATE TRIGGER \"my \"\"own\"\"\" AFTER INSERT ON entry BEGIN DELETE FROM setting; END");
    ASSERT_NE(raw.rows(triggers), before);
  }
  EXPECT_EQ(opened(folder.path())->count().value(), 1u);
  RawDatabase raw{folder.database()};
  EXPECT_EQ(raw.rows(triggers), before);
  EXPECT_NE(raw.run("DELETE FROM entry"), "");
}

}  // namespace
}  // namespace lampside::store::test
