#include "cli/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <utility>

#include "exchange/words.hpp"

namespace lampside::cli {

using std::chrono::steady_clock;

ProgressLine::ProgressLine(std::string what)
    : what_{exchange::harmless(what)},
      begun_{steady_clock::now()},
      shown_{begun_},
      terminal_{isatty(STDERR_FILENO) == 1} {}

ProgressLine::~ProgressLine() {
  if (drawn_ && terminal_) std::fputs("\r\x1b[K", stderr);
}

void ProgressLine::now(std::string what) {
  what_ = exchange::harmless(what);
  show(0, 0);
}

void ProgressLine::show(std::size_t done, std::size_t total) {
  const auto time = steady_clock::now();
  if (time - begun_ < std::chrono::seconds{1}) return;
  if (!terminal_) {
    if (!std::exchange(drawn_, true)) fmt::print(stderr, "{} ...\n", what_);
    return;
  }
  if (drawn_ && time - shown_ < std::chrono::milliseconds{100} && total != 0) return;
  shown_ = time;
  drawn_ = true;
  constexpr std::size_t width = 30;
  const double part = total == 0 ? 0 : std::min(1.0, static_cast<double>(done) / static_cast<double>(total));
  const auto filled = static_cast<std::size_t>(part * width);
  if (total == 0)
    fmt::print(stderr, "\r\x1b[K{} ...", what_);
  else
    fmt::print(stderr, "\r\x1b[K[{}{}] {:3.0f} % {}", std::string(filled, '#'), std::string(width - filled, ' '),
               part * 100, what_);
  std::fflush(stderr);
}

}  // namespace lampside::cli
