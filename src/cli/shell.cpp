#include "cli/shell.hpp"

#include <fmt/format.h>
#include <signal.h>

#include <atomic>
#include <cstdio>
#include <cstdlib>

#include "exchange/words.hpp"

namespace lampside::cli {
namespace {

std::atomic<bool> stop_flag{false};
static_assert(std::atomic<bool>::is_always_lock_free);  // so that a signal handler may write it

std::string variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? "" : value;
}

sigset_t stop_set() {
  sigset_t set;
  sigemptyset(&set);
  for (const int s : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&set, s);
  return set;
}

}  // namespace

int fail(const Problem& problem, Exit exit) {
  std::string text = fmt::format("lampside: {} [{}]\n", problem.what, problem.code);
  if (!problem.todo.empty()) text += fmt::format("  to do: {}\n", problem.todo);
  std::fputs(exchange::harmless(text).c_str(), stderr);
  return exit;
}

Result<void> print(std::string_view text) {
  const std::string out = exchange::harmless(text);
  if (std::fwrite(out.data(), 1, out.size(), stdout) != out.size() || std::fflush(stdout) != 0)
    return problem("OUT_FAILED", "the output cannot be written to its end", "is the disk full, or the reader gone?");
  return {};
}

Result<std::string> data_folder(const std::string& given) {
  if (!given.empty()) return given;
  if (const std::string said = variable("LAMPSIDE_DATA"); !said.empty()) return said;
  if (const std::string share = variable("XDG_DATA_HOME"); !share.empty()) return share + "/lampside";
  if (const std::string home = variable("HOME"); !home.empty()) return home + "/.local/share/lampside";
  return problem("DATA_NOWHERE", "there is no home folder to keep the journal in", "say --data DIR");
}

void catch_stop() {
  struct sigaction action{};
  action.sa_handler = [](int) { stop_flag = true; };
  action.sa_flags = static_cast<int>(SA_RESETHAND);  // the second one does what it always did
  sigemptyset(&action.sa_mask);
  for (const int s : {SIGINT, SIGTERM}) sigaction(s, &action, nullptr);
}

bool stop_wanted() { return stop_flag; }

StopSignals::StopSignals() {
  const sigset_t set = stop_set();
  pthread_sigmask(SIG_BLOCK, &set, nullptr);
}

void StopSignals::wait() const {
  const sigset_t set = stop_set();
  int which = 0;
  sigwait(&set, &which);
}

}  // namespace lampside::cli
