#include "processes.hpp"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>
#include <csignal>

#include <stdexcept>

extern char** environ;

namespace lampside::store::test {

Writer::Writer(const std::string& folder, const std::string& way, unsigned first, unsigned count) {
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
  std::vector<std::string> words{STORE_WRITER, folder, way, std::to_string(first)};
  if (count > 0) words.push_back(std::to_string(count));
  std::vector<char*> arguments;
  for (auto& word : words) arguments.push_back(word.data());
  arguments.push_back(nullptr);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, ends[1], STDOUT_FILENO);
  const int failed = posix_spawn(&process_, STORE_WRITER, &actions, nullptr, arguments.data(), environ);
  posix_spawn_file_actions_destroy(&actions);
  ::close(ends[1]);
  pipe_ = ends[0];
  if (failed != 0) throw std::runtime_error("the writer does not start");
}

Writer::~Writer() {
  if (process_ > 0) kill();
  ::close(pipe_);
}

bool Writer::listen() {
  char part[4096];
  const ssize_t n = ::read(pipe_, part, sizeof part);
  if (n <= 0) return false;
  heard_.append(part, static_cast<std::size_t>(n));
  for (auto end = heard_.find('\n'); end != std::string::npos; end = heard_.find('\n')) {
    acknowledged_.push_back(static_cast<unsigned>(std::stoul(heard_.substr(0, end))));
    heard_.erase(0, end + 1);
  }
  return true;
}

void Writer::wait_for_one() {
  while (acknowledged_.empty() && listen()) {
  }
}

void Writer::reap() {
  while (listen()) {
  }
  ::waitpid(process_, &status_, 0);
  process_ = -1;
}

void Writer::kill() {
  ::kill(process_, SIGKILL);
  reap();
}

int Writer::wait() {
  reap();
  return WIFEXITED(status_) ? WEXITSTATUS(status_) : -WTERMSIG(status_);
}

}  // namespace lampside::store::test
