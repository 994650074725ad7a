// What the store's suites share: folders that vanish, entries made from a number, SQL from outside.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "record/entry.hpp"
#include "store/journal.hpp"

struct sqlite3;

namespace lampside::store::test {

/// An empty folder, removed with all that is in it. In memory where the system has a place for that: no suite here
/// depends on a real disk being slow, and thousands of real syncs would make it wait for minutes.
class TempFolder {
 public:
  enum class On { memory, disk };
  explicit TempFolder(On on = On::memory);
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;
  ~TempFolder();
  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] std::string database() const { return path_ + "/lampside.db"; }

 private:
  std::string path_;
};

/// A UUID made from a number.
std::string uuid(unsigned number);
/// A weight of a pup with the id uuid(number). Another `grams`: other content under the same id.
record::Entry weight(unsigned number, double grams = 412);
/// The weight and the birth of pair `number`, which belong together. Pairs are what a torn write would tear.
std::vector<record::Entry> pair(unsigned number);

/// Somebody made from a number, with a name that stands nowhere else.
record::Person person(unsigned number);
/// Every byte of every file of the folder.
std::string bytes_of(const std::string& folder);

std::vector<std::string> lines_of(const std::vector<record::Entry>& entries);

/// The journal, or an exception that says why not.
std::unique_ptr<Journal> opened(const std::string& folder);

/// SQLite from outside Lampside: what another program could do to the file.
class RawDatabase {
 public:
  explicit RawDatabase(const std::string& path);
  RawDatabase(const RawDatabase&) = delete;
  RawDatabase& operator=(const RawDatabase&) = delete;
  ~RawDatabase();
  /// "" when it worked, else SQLite's message.
  std::string run(const std::string& sql);
  /// Every row, values joined by "|", rows by newlines. Throws on an error.
  std::string rows(const std::string& sql);

 private:
  sqlite3* connection_ = nullptr;
};

/// What is wrong with a journal of pairs; "" when it is sound, has no torn pair, and holds every pair in
/// `acknowledged`.
std::string fault_of_pairs(const std::string& folder, const std::vector<unsigned>& acknowledged);

}  // namespace lampside::store::test
