// Keeping the journal: one contract, whatever the engine.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "measure/result.hpp"
#include "record/entry.hpp"
#include "store/people.hpp"

namespace lampside::store {

struct Receipt {
  std::size_t appended = 0;
  std::size_t replayed = 0;  ///< same id, same content: harmless
};

/// An append-only journal. Thread-safe: every call may come from any thread.
class Journal {
 public:
  virtual ~Journal() = default;

  /// All or nothing, on disk when it returns. Same id and same content is a replay; same id with other content is
  /// refused. Errors: STORE_CONFLICT (names the id), STORE_FULL, STORE_BUSY, STORE_DAMAGED, STORE_IO; those of
  /// record::decode_line for an entry that could not be read back.
  virtual Result<Receipt> append(std::span<const record::Entry> entries) = 0;

  /// Words that named somebody, taken out of entries that are there: each as it stands now, with `name_out` in it
  /// (exchange::naming). The one change the journal knows; all or nothing, and no trace of what stood there is left in
  /// the store or its side files when it returns. Copies made before still hold it. Errors: STORE_CONFLICT (something
  /// else would change, or no such entry), STORE_*.
  virtual Result<void> take_out(std::span<const record::Entry> entries) = 0;

  /// Every entry in order of arrival, from the n-th on (0: all). Errors: STORE_*.
  virtual Result<std::vector<record::Entry>> read(std::uint64_t from = 0) = 0;

  /// Number of entries, also those another process appended: cheap, for noticing news.
  virtual Result<std::uint64_t> count() = 0;

  /// A safe copy while running, under a new path that must not exist. Errors: STORE_EXISTS, STORE_IO, STORE_FULL.
  virtual Result<void> copy_to(const std::string& path) = 0;

  /// Who the families are, in the same place and in its copies, but no part of the journal. Valid as long as the
  /// journal.
  virtual People& people() = 0;

  /// Small settings beside the journal (the form token's secret). Errors: STORE_*.
  virtual Result<std::string> setting(const std::string& name, const std::string& if_absent) = 0;
};

/// Opens (or makes) DIR/lampside.db: integrity checked, schema brought up to date, write-ahead log, full sync.
/// Errors: STORE_OPEN, STORE_DAMAGED, STORE_NEWER (made by a newer Lampside), STORE_FULL, STORE_BUSY, STORE_IO.
Result<std::unique_ptr<Journal>> open_sqlite(const std::string& directory);

/// Puts a copy made by copy_to back as DIR/lampside.db. Refuses if one is there. Errors: STORE_EXISTS, STORE_DAMAGED,
/// STORE_NEWER, STORE_OPEN (no copy of a journal), STORE_FULL, STORE_IO.
Result<void> restore_sqlite(const std::string& copy, const std::string& directory);

}  // namespace lampside::store
