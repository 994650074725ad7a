// What the commands share towards the terminal and the machine.
#pragma once

#include <string>
#include <string_view>

#include "measure/result.hpp"

namespace lampside::cli {

enum Exit : int { fine = 0, refused = 1, usage = 2 };

/// Prints what is wrong and what to do to stderr, harmless for a terminal; returns `exit`.
int fail(const Problem& problem, Exit exit = refused);

/// Prints to stdout, harmless for a terminal, and flushes. Errors: OUT_FAILED (a full disk, a closed pipe).
Result<void> print(std::string_view text);

/// $LAMPSIDE_DATA, else $XDG_DATA_HOME/lampside, else ~/.local/share/lampside.
/// Errors: DATA_NOWHERE when none of these variables is set.
Result<std::string> data_folder(const std::string& given);

/// From now on Ctrl-C (or SIGTERM) only raises a flag, so that a command can end with nothing half-done; a second one
/// ends the program at once.
void catch_stop();
bool stop_wanted();

/// Holds SIGINT, SIGTERM and SIGHUP back in this thread and those started from now on, until wait() takes one.
class StopSignals {
 public:
  StopSignals();
  void wait() const;
};

}  // namespace lampside::cli
