// Work longer than a second shows that it goes on: a bar on a terminal, one plain line otherwise.
#pragma once

#include <chrono>
#include <cstddef>
#include <string>

namespace lampside::cli {

class ProgressLine {
 public:
  /// `what`: "reading journal.jsonl". Written to stderr, and not before a second has passed.
  explicit ProgressLine(std::string what);
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  /// `total` 0: not known.
  void show(std::size_t done, std::size_t total);
  /// What is being done now, with no telling how far it is.
  void now(std::string what);

 private:
  std::string what_;
  std::chrono::steady_clock::time_point begun_, shown_;
  bool terminal_;
  bool drawn_ = false;
};

}  // namespace lampside::cli
