#include "store/sqlite/database.hpp"

#include <sqlite3.h>

#include <cerrno>
#include <filesystem>
#include <utility>

namespace lampside::store::sqlite {
namespace {

constexpr const char* kTryAgain = "nothing was lost: try again; sending the same entry twice is harmless";

void check_connection(sqlite3* connection, int code) {
  if (code == SQLITE_OK) return;
  throw SqliteFailure{connection ? sqlite3_extended_errcode(connection) : code,
                      connection ? sqlite3_system_errno(connection) : 0,
                      connection ? sqlite3_errmsg(connection) : sqlite3_errstr(code)};
}

}  // namespace

Problem problem_of(int code, int system_error, const std::string& message) {
  const int primary = code & 0xff;
  // The operating system's error counts only where SQLite says that an operation on a file failed: else it is stale.
  const bool file_failed = primary == SQLITE_IOERR || primary == SQLITE_CANTOPEN;
  if (primary == SQLITE_FULL || (file_failed && (system_error == ENOSPC || system_error == EDQUOT))) {
    return {"STORE_FULL", "the disk is full, so this could not be saved (" + message + ")",
            "free some space on the disk that holds the data folder, then save again"};
  }
  switch (primary) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
    case SQLITE_PROTOCOL:
      return {"STORE_BUSY", "another program is writing to the journal and did not finish in time", kTryAgain};
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_CONSTRAINT:  // our statements are fixed: one that does not fit means a file that is not as we made it
    case SQLITE_ERROR:
      return {"STORE_DAMAGED", "the journal file is damaged (" + message + ")",
              "stop Lampside, put the damaged file aside (do not delete it), and put your last copy back"};
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
      return {"STORE_IO", "the journal may not be written to (" + message + ")",
              "check that this user may write to the data folder and that its disk is not read-only"};
    case SQLITE_NOMEM:
      return {"STORE_IO", "the computer ran out of memory", "close other programs and try again"};
    default:
      return {"STORE_IO", "the disk did not do what was asked of it (" + message + ")",
              "try again; if it happens again, make a copy onto another disk and have this one looked at"};
  }
}

SqliteFailure::SqliteFailure(int code, int system_error, const std::string& message)
    : Failure{problem_of(code, system_error, message)}, code_{code} {}
bool SqliteFailure::busy() const { return (code_ & 0xff) == SQLITE_BUSY; }
bool SqliteFailure::refused_by_guard() const { return code_ == SQLITE_CONSTRAINT_TRIGGER; }

void Statement::Finalize::operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
void Database::Close::operator()(sqlite3* connection) const { sqlite3_close_v2(connection); }

Statement::Statement(Database& database, std::string_view sql) : connection_{database.connection_.get()} {
  sqlite3_stmt* statement = nullptr;
  check(sqlite3_prepare_v2(connection_, sql.data(), static_cast<int>(sql.size()), &statement, nullptr));
  statement_.reset(statement);
}

void Statement::check(int code) const { check_connection(connection_, code); }
void Statement::bind(int parameter, std::int64_t value) {
  check(sqlite3_bind_int64(statement_.get(), parameter, value));
}
void Statement::bind(int parameter, std::string_view text) {
  check(sqlite3_bind_text64(statement_.get(), parameter, text.data(), text.size(), SQLITE_STATIC, SQLITE_UTF8));
}
void Statement::bind_bytes(int parameter, std::string_view bytes) {
  check(sqlite3_bind_blob64(statement_.get(), parameter, bytes.data(), bytes.size(), SQLITE_STATIC));
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  check(code);
  return false;
}

void Statement::reset() { sqlite3_reset(statement_.get()); }  // repeats the error that step() already threw

std::int64_t Statement::integer(int column) const { return sqlite3_column_int64(statement_.get(), column); }

std::string Statement::text(int column) const {
  const void* bytes = sqlite3_column_blob(statement_.get(), column);
  if (bytes == nullptr) return {};
  return {static_cast<const char*>(bytes), static_cast<std::size_t>(sqlite3_column_bytes(statement_.get(), column))};
}

Database::Database(const std::string& path, Mode mode, int busy_ms) {
  // Absolute, because SQLite takes a name that begins with "file:" for a URI.
  open(std::filesystem::absolute(path).string(),
       mode == Mode::read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE);
  check_connection(connection_.get(), sqlite3_busy_timeout(connection_.get(), busy_ms));
  check_connection(connection_.get(), sqlite3_db_config(connection_.get(), SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr));
  // What is erased is overwritten: the data of a person must not stay readable in a freed page.
  run("PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL; PRAGMA secure_delete = ON");
}

Database Database::in_memory() {
  Database database;
  database.open(":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_MEMORY);
  return database;
}

void Database::open(const std::string& path, int flags) {
  sqlite3* connection = nullptr;
  // One mutex of ours guards each connection, so SQLite's own would only cost time.
  const int code =
      sqlite3_open_v2(path.c_str(), &connection, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, nullptr);
  connection_.reset(connection);
  check_connection(connection, code);
}

void Database::run(const std::string& sql) {
  check_connection(connection_.get(), sqlite3_exec(connection_.get(), sql.c_str(), nullptr, nullptr, nullptr));
}

std::int64_t Database::integer(std::string_view sql) {
  Statement statement{*this, sql};
  return statement.step() ? statement.integer(0) : 0;
}

std::string Database::text(std::string_view sql) {
  Statement statement{*this, sql};
  return statement.step() ? statement.text(0) : std::string{};
}

int Database::changes() const { return sqlite3_changes(connection_.get()); }

bool Database::has_moved() const {
  int moved = 0;
  const int code = sqlite3_file_control(connection_.get(), "main", SQLITE_FCNTL_HAS_MOVED, &moved);
  return code == SQLITE_OK && moved != 0;
}

std::string Database::fault() {
  const std::string found = text("PRAGMA integrity_check(1)");
  return found == "ok" ? std::string{} : found;
}

void Database::back_up_to(Database& target) {
  sqlite3_backup* backup = sqlite3_backup_init(target.connection_.get(), "main", connection_.get(), "main");
  if (backup == nullptr) check_connection(target.connection_.get(), sqlite3_errcode(target.connection_.get()));
  // All pages in one step: one moment's state. In WAL mode a reader holds up no writer, however long it takes.
  const int step = sqlite3_backup_step(backup, -1);
  const int finish = sqlite3_backup_finish(backup);
  if (step == SQLITE_BUSY || step == SQLITE_LOCKED) throw SqliteFailure{step, 0, sqlite3_errstr(step)};
  check_connection(target.connection_.get(), finish);
}

Transaction::Transaction(Database& database) : database_{database} { database_.run("BEGIN IMMEDIATE"); }

Transaction::~Transaction() {
  // Refused when SQLite has already rolled back by itself (a full disk, a failed write): then nothing is left to undo.
  if (open_) sqlite3_exec(database_.connection_.get(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
  database_.run("COMMIT");
  open_ = false;
}

}  // namespace lampside::store::sqlite
