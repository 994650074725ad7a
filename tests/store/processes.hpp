// Starting the writer program, listening to what it acknowledges, and killing it.
#pragma once

#include <sys/types.h>

#include <string>
#include <vector>

namespace lampside::store::test {

/// A running store_writer (see writer/writer.cpp). Killed at the end of its scope if it still runs.
class Writer {
 public:
  Writer(const std::string& folder, const std::string& way, unsigned first, unsigned count = 0);
  Writer(const Writer&) = delete;
  Writer& operator=(const Writer&) = delete;
  ~Writer();

  /// Waits until it has acknowledged one pair, or has ended.
  void wait_for_one();
  /// SIGKILL: no destructor, no flush, no good-bye.
  void kill();
  /// Its exit code once it has ended by itself; negative: the signal that ended it.
  int wait();
  /// Every pair it acknowledged until it ended. Call after kill() or wait().
  [[nodiscard]] const std::vector<unsigned>& acknowledged() const { return acknowledged_; }

 private:
  bool listen();
  void reap();
  pid_t process_ = -1;
  int pipe_ = -1, status_ = 0;
  std::string heard_;
  std::vector<unsigned> acknowledged_;
};

}  // namespace lampside::store::test
