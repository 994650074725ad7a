// A text file line by line, with limits: whatever is handed in, memory stays small and errors name the line.
#pragma once

#include <cstddef>
#include <functional>
#include <istream>
#include <string>
#include <string_view>

#include "measure/result.hpp"

namespace lampside::exchange {

struct Limits {
  std::size_t line = 64 * 1024;
  std::size_t bytes = std::size_t{64} * 1024 * 1024;
  std::size_t lines = 1'000'000;
};

/// Told the bytes read so far; returns false to stop (Ctrl-C).
using Progress = std::function<bool(std::size_t bytes)>;

/// The same problem, its text beginning with "line N: ".
Problem at_line(std::size_t line, Problem problem);

/// Splits at LF or CRLF; a byte order mark at the start is passed over. Lines come as UTF-8 without control characters.
/// Errors: FILE_BINARY (says what kind of file it looks like), FILE_ENCODING (not UTF-8), FILE_LINE_ENDS (lone CR),
/// FILE_TOO_BIG, FILE_READ, LINE_TOO_LONG, STOPPED (by `progress`).
class LineReader {
 public:
  explicit LineReader(std::istream& in, Limits limits = {}, Progress progress = {});
  /// Puts the next line in `line`; false at the end of the file.
  Result<bool> next(std::string& line);
  /// Number of the line last given, from 1.
  [[nodiscard]] std::size_t line() const { return line_; }

 private:
  Result<void> fill();
  Result<void> check(std::string& line) const;

  std::istream& in_;
  Limits limits_;
  Progress progress_;
  std::string buffer_;
  std::size_t at_ = 0;  ///< first byte of buffer_ not yet given
  std::size_t bytes_ = 0;
  std::size_t line_ = 0;
  bool ended_ = false;
};

}  // namespace lampside::exchange
