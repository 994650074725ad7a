// The pictures beside the journal: a folder of files, each under the SHA-256 of what is in it.
#pragma once

#include <string>
#include <string_view>

#include "measure/result.hpp"

namespace lampside::store {

/// Files are written whole or not at all and never changed: the same picture kept twice is one file. Thread-safe as far
/// as the folder is.
class Attachments {
 public:
  /// Keeps nothing: keep() is refused and read() finds nothing.
  Attachments() = default;
  /// DATA/attachments, made when the first picture comes.
  static Attachments beside(const std::string& data);
  /// The folder that goes with a copy of the journal.
  static Attachments of_copy(const std::string& copy);

  /// On disk when it returns. Errors: ATTACHMENTS_NONE, STORE_OPEN, STORE_FULL, STORE_IO.
  Result<void> keep(const std::string& sha256, std::string_view bytes) const;
  /// Errors: ATTACHMENT_GONE (no such file), STORE_DAMAGED (its content has another name).
  [[nodiscard]] Result<std::string> read(const std::string& sha256) const;
  /// Every file into another folder; those that are there already are left. How many it holds then.
  /// Errors: those of keep() and read().
  [[nodiscard]] Result<std::size_t> copy_to(const Attachments& other) const;

 private:
  explicit Attachments(std::string folder) : folder_{std::move(folder)} {}
  [[nodiscard]] std::string path_of(const std::string& sha256) const { return folder_ + "/" + sha256 + ".jpg"; }
  std::string folder_;
};

}  // namespace lampside::store
