#include "store/journal.hpp"

#include <chrono>
#include <filesystem>
#include <limits>
#include <mutex>
#include <thread>

#include "store/sqlite/copy.hpp"
#include "store/sqlite/database.hpp"
#include "store/sqlite/files.hpp"
#include "store/sqlite/schema.hpp"

namespace lampside::store {
namespace {

using sqlite::Database;
using sqlite::Failure;
using sqlite::Statement;
using sqlite::Transaction;

/// How long to wait for another program's write. Longer than any of ours takes, short enough to tell a person.
constexpr int kBusyMs = 5000;

/// The entry as it will stand in the journal. Refuses what could not be read back: a line like that would shut the
/// whole journal for ever. Errors: those of record::decode_line; ENTRY_VALUE for a kind with a NUL character.
Result<std::string> canonical_line(const record::Entry& entry) {
  std::string line = record::encode_line(entry);
  if (auto readable = record::decode_line(line); !readable) return tl::unexpected<Problem>(std::move(readable.error()));
  if (entry.kind.find('\0') !=
      std::string::npos) {  // SQLite's JSON would end the text there, PostgreSQL cannot hold it
    return problem("ENTRY_VALUE", "the kind of entry " + entry.id + " has a NUL character in it", "write it without");
  }
  return line;
}

Result<std::vector<std::string>> canonical_lines(std::span<const record::Entry> entries) {
  std::vector<std::string> lines;
  for (const auto& entry : entries) {
    auto line = canonical_line(entry);
    if (!line) return tl::unexpected<Problem>(std::move(line.error()));
    lines.push_back(std::move(*line));
  }
  return lines;
}

/// Switching an empty file to the write-ahead log needs it alone for a moment, and does not wait by itself.
void use_write_ahead_log(Database& database) {
  using namespace std::chrono_literals;
  for (int waited_ms = 0;; waited_ms += 20) {
    try {
      if (database.text("PRAGMA journal_mode = WAL") == "wal") return;
      throw Failure{{"STORE_OPEN", "the disk of the data folder cannot hold a journal that several programs share",
                     "put the data folder on a disk of this computer, not on a network share"}};
    } catch (const sqlite::SqliteFailure& failure) {
      if (!failure.busy() || waited_ms >= kBusyMs) throw;
    }
    std::this_thread::sleep_for(20ms);
  }
}

class SqliteJournal final : public Journal, public People {
 public:
  SqliteJournal(std::string path, Database database) : path_{std::move(path)}, database_{std::move(database)} {}

  Result<Receipt> append(std::span<const record::Entry> entries) override {
    const auto lines = canonical_lines(entries);
    if (!lines) return tl::unexpected<Problem>(lines.error());
    if (lines->empty()) return Receipt{};
    return sqlite::guarded([&] {
      const std::lock_guard lock{mutex_};
      refuse_if_moved();
      Transaction transaction{database_};
      const Receipt receipt = insert(entries, *lines);
      transaction.commit();
      return receipt;
    });
  }

  Result<void> take_out(std::span<const record::Entry> entries) override {
    const auto lines = canonical_lines(entries);
    if (!lines) return tl::unexpected<Problem>(lines.error());
    return sqlite::guarded([&] {
      const std::lock_guard lock{mutex_};
      refuse_if_moved();
      {
        Transaction transaction{database_};
        Statement update{database_, "UPDATE entry SET body = ? WHERE id = ?"};
        for (std::size_t i = 0; i < lines->size(); ++i) {
          update.bind(1, (*lines)[i]);
          update.bind(2, entries[i].id);
          try {
            update.step();
          } catch (const sqlite::SqliteFailure& failure) {
            if (!failure.refused_by_guard()) throw;
            refuse_other_change(entries[i].id);
          }
          if (database_.changes() != 1) refuse_other_change(entries[i].id);
          update.reset();
        }
        transaction.commit();
      }
      empty_the_log();
    });
  }

  Result<std::vector<record::Entry>> read(std::uint64_t from) override {
    auto lines = sqlite::guarded([&] { return lines_after(from); });
    if (!lines) return tl::unexpected<Problem>(std::move(lines.error()));
    std::vector<record::Entry> entries;
    entries.reserve(lines->size());
    for (const auto& line : *lines) {
      auto entry = record::decode_line(line);
      if (!entry) {
        return problem("STORE_DAMAGED",
                       "entry number " + std::to_string(from + entries.size() + 1) +
                           " in the journal cannot be read (" + to_text(entry.error()) + ")",
                       "it may come from a newer Lampside: update this one; else put your last copy back");
      }
      entries.push_back(std::move(*entry));
    }
    return entries;
  }

  Result<std::uint64_t> count() override {
    return sqlite::guarded([&] {
      const std::lock_guard lock{mutex_};
      return static_cast<std::uint64_t>(database_.integer("SELECT coalesce(max(sequence), 0) FROM entry"));
    });
  }

  Result<void> copy_to(const std::string& path) override {
    // By a connection of its own: a copy onto a slow card must not keep the next entry waiting.
    return sqlite::guarded([&] { sqlite::copy_journal(path_, path); });
  }

  People& people() override { return *this; }

  Result<void> put(const record::Person& person) override {
    if (person.family.empty())
      return problem("PERSON_FAMILY", "a person is kept under a family's id, and none was given", "name the family");
    return sqlite::guarded([&] {
      const std::lock_guard lock{mutex_};
      refuse_if_moved();
      Transaction transaction{database_};
      const std::string until = person.keep_until ? to_iso(*person.keep_until) : std::string{};
      Statement put{database_,
                    "INSERT OR REPLACE INTO person (family, name, phone, email, address, note, keep_until, consent) "
                    "VALUES (?, ?, ?, ?, ?, ?, nullif(?, ''), ?)"};
      int n = 0;
      for (const auto* text :
           {&person.family, &person.name, &person.phone, &person.email, &person.address, &person.note, &until})
        put.bind(++n, *text);
      put.bind(++n, std::int64_t{person.consent ? 1 : 0});
      put.step();
      put.reset();
      transaction.commit();
    });
  }

  Result<std::optional<record::Person>> get(const std::string& family) override {
    auto all = list();
    if (!all) return tl::unexpected<Problem>(std::move(all.error()));
    for (auto& person : *all)
      if (person.family == family) return std::optional{std::move(person)};
    return std::optional<record::Person>{};
  }

  Result<std::vector<record::Person>> list() override {
    return sqlite::guarded([&] {
      const std::lock_guard lock{mutex_};
      std::vector<record::Person> out;
      Statement select{
          database_,
          "SELECT family, name, phone, email, address, note, coalesce(keep_until, ''), consent FROM person "
          "ORDER BY family"};
      while (select.step()) {
        record::Person person{select.text(0), select.text(1), select.text(2), select.text(3),
                              select.text(4), select.text(5), std::nullopt,   select.integer(7) != 0};
        if (const auto day = parse_day(select.text(6))) person.keep_until = *day;
        out.push_back(std::move(person));
      }
      return out;
    });
  }

  Result<void> erase(const std::string& family) override {
    return sqlite::guarded([&] {
      const std::lock_guard lock{mutex_};
      refuse_if_moved();
      {
        Transaction transaction{database_};
        Statement erase{database_, "DELETE FROM person WHERE family = ?"};
        erase.bind(1, family);
        erase.step();
        erase.reset();
        transaction.commit();
      }
      empty_the_log();
    });
  }

  Result<std::string> setting(const std::string& name, const std::string& if_absent) override {
    return sqlite::guarded([&] {
      const std::lock_guard lock{mutex_};
      refuse_if_moved();
      Statement find{database_, "SELECT value FROM setting WHERE name = ?"};
      find.bind(1, name);
      if (find.step()) return find.text(0);
      find.reset();
      Transaction transaction{database_};
      Statement keep{database_, "INSERT INTO setting (name, value) VALUES (?, ?) ON CONFLICT (name) DO NOTHING"};
      keep.bind(1, name);
      keep.bind_bytes(2, if_absent);
      keep.step();
      find.step();  // another program may have been first: its value is the one that holds
      std::string value = find.text(0);
      find.reset();
      transaction.commit();
      return value;
    });
  }

 private:
  /// The log still holds the pages as they were: it is played in and emptied.
  void empty_the_log() {
    if (database_.integer("PRAGMA wal_checkpoint(TRUNCATE)") != 0)
      throw Failure{{"STORE_BUSY", "the lines are erased, but another program kept the journal's side file busy",
                     "erase once more, so that no trace is left there"}};
  }
  [[noreturn]] static void refuse_other_change(const std::string& id) {
    throw Failure{{"STORE_CONFLICT", "more than words would change in entry " + id + ", or it is not there",
                   "nothing was changed; write a correction as a new entry with an id of its own"}};
  }

  /// An entry written to a file that lost its name would be gone with the program.
  void refuse_if_moved() const {
    if (database_.has_moved()) {
      throw Failure{{"STORE_IO", "the journal " + path_ + " was moved or deleted while Lampside was using it",
                     "put the file back in its place (or restore a copy) and start Lampside again"}};
    }
  }

  Receipt insert(std::span<const record::Entry> entries, const std::vector<std::string>& lines) {
    Receipt receipt;
    Statement insert{database_, "INSERT INTO entry (id, litter, kind, body) VALUES (?, ?, ?, ?)"};
    for (std::size_t i = 0; i < entries.size(); ++i) {
      insert.bind(1, entries[i].id);
      insert.bind(2, entries[i].litter);
      insert.bind(3, entries[i].kind);
      insert.bind(4, lines[i]);
      try {
        insert.step();
      } catch (const sqlite::SqliteFailure& failure) {
        if (!failure.refused_by_guard()) throw;
        throw Failure{{"STORE_CONFLICT", "entry " + entries[i].id + " is already in the journal with other content",
                       "nothing was saved; write a correction as a new entry with an id of its own"}};
      }
      ++(database_.changes() == 1 ? receipt.appended : receipt.replayed);  // the guard passes over a replay
      insert.reset();
    }
    return receipt;
  }

  std::vector<std::string> lines_after(std::uint64_t from) {
    std::vector<std::string> lines;
    if (from > static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max())) return lines;
    const std::lock_guard lock{mutex_};
    Statement select{database_, "SELECT body FROM entry WHERE sequence > ? ORDER BY sequence"};
    select.bind(1, static_cast<std::int64_t>(from));
    while (select.step()) lines.push_back(select.text(0));
    return lines;
  }

  const std::string path_;
  std::mutex mutex_;
  Database database_;  ///< guarded by mutex_
};

}  // namespace

Result<std::unique_ptr<Journal>> open_sqlite(const std::string& directory) {
  return sqlite::guarded([&]() -> std::unique_ptr<Journal> {
    sqlite::make_folder(directory);
    const std::string path = std::filesystem::absolute(directory) / "lampside.db";
    if (sqlite::make_private_file(path)) sqlite::sync_folder(directory);
    Database database{path, Database::Mode::existing, kBusyMs};
    // Everything that might refuse the file comes before anything that writes to it.
    if (sqlite::layout_version(database) != 0) sqlite::check_sound(database);
    use_write_ahead_log(database);
    sqlite::bring_up_to_date(database);
    return std::make_unique<SqliteJournal>(path, std::move(database));
  });
}

}  // namespace lampside::store
