// The SQLite C API, owned: a connection, a statement, a transaction. Only database.cpp calls sqlite3_*.
#pragma once

#include <cstdint>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "measure/result.hpp"

struct sqlite3;
struct sqlite3_stmt;

namespace lampside::store::sqlite {

/// How an operation inside this folder fails. It never leaves the folder: `guarded` turns it into a Problem at the
/// contract's edge. Thrown, not returned, so that every transaction rolls back by leaving its scope.
class Failure : public std::runtime_error {
 public:
  explicit Failure(Problem problem) : std::runtime_error{to_text(problem)}, problem_{std::move(problem)} {}
  [[nodiscard]] const Problem& problem() const { return problem_; }

 private:
  Problem problem_;
};

/// A refusal by SQLite itself, with its extended result code and the operating system's error beneath it (0: none).
class SqliteFailure : public Failure {
 public:
  SqliteFailure(int code, int system_error, const std::string& message);
  [[nodiscard]] bool busy() const;
  /// A guard of the schema refused the statement (RAISE in a trigger).
  [[nodiscard]] bool refused_by_guard() const;

 private:
  int code_;
};

/// The Problem that SQLite's result code means to a keeper. Codes: STORE_FULL, STORE_BUSY, STORE_DAMAGED, STORE_IO.
Problem problem_of(int code, int system_error, const std::string& message);

class Database;

/// A prepared statement. Parameters count from 1, columns from 0, as in SQLite.
class Statement {
 public:
  Statement(Database& database, std::string_view sql);
  void bind(int parameter, std::int64_t value);
  /// The text is not copied: it must outlive the next step().
  void bind(int parameter, std::string_view text);
  void bind_bytes(int parameter, std::string_view bytes);
  /// One row further: false when there is none left.
  bool step();
  void reset();
  [[nodiscard]] std::int64_t integer(int column) const;
  /// A text or blob with every byte it has, also NUL.
  [[nodiscard]] std::string text(int column) const;

 private:
  struct Finalize {
    void operator()(sqlite3_stmt* statement) const;
  };
  void check(int code) const;
  sqlite3* connection_;
  std::unique_ptr<sqlite3_stmt, Finalize> statement_;
};

/// A connection. Not thread-safe: whoever shares one guards it with a mutex.
class Database {
 public:
  enum class Mode { read_only, existing };
  /// Opens a file that exists; an empty file is an empty database. A wait for another writer lasts `busy_ms`.
  Database(const std::string& path, Mode mode, int busy_ms);
  /// An empty database in memory.
  static Database in_memory();

  void run(const std::string& sql);  ///< one or more statements, rows ignored
  std::int64_t integer(std::string_view sql);
  std::string text(std::string_view sql);
  /// Rows the last INSERT really put in: 0 when a guard passed over it.
  [[nodiscard]] int changes() const;
  /// The file this connection writes to is no longer the one under its name (deleted, moved, replaced).
  [[nodiscard]] bool has_moved() const;
  /// "" when sound; else the first fault: pages, rows, checks, and every index against its table.
  std::string fault();
  /// Copies the whole of this database over `target`, as of one moment, while others read and write.
  void back_up_to(Database& target);

 private:
  friend class Statement;
  friend class Transaction;
  struct Close {
    void operator()(sqlite3* connection) const;
  };
  Database() = default;
  void open(const std::string& path, int flags);
  std::unique_ptr<sqlite3, Close> connection_;
};

/// Takes the write lock at once, so that it never has to be gained half-way; rolled back unless committed.
class Transaction {
 public:
  explicit Transaction(Database& database);
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  ~Transaction();
  void commit();

 private:
  Database& database_;
  bool open_ = true;
};

/// Runs `work` and gives what it gives; a Failure, or memory running out, comes back as a Problem.
template <class Work>
auto guarded(Work work) -> Result<decltype(work())> {
  try {
    if constexpr (std::is_void_v<decltype(work())>) {
      work();
      return {};
    } else {
      return work();
    }
  } catch (const Failure& failure) {
    return tl::unexpected<Problem>(failure.problem());
  } catch (const std::bad_alloc&) {
    return problem("STORE_IO", "the computer ran out of memory; nothing was saved",
                   "close other programs and try again");
  }
}

}  // namespace lampside::store::sqlite
