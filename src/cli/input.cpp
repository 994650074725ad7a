#include "cli/input.hpp"

#include <fmt/format.h>
#include <sys/stat.h>

#include <cerrno>
#include <cstring>
#include <filesystem>

#include "cli/progress.hpp"
#include "cli/shell.hpp"
#include "exchange/jsonl.hpp"
#include "exchange/words.hpp"

namespace lampside::cli {

Result<Input> open_input(const std::string& path) {
  struct stat about{};
  if (::stat(path.c_str(), &about) != 0)
    return problem("FILE_OPEN", fmt::format("{} cannot be opened: {}", path, std::strerror(errno)),
                   "check its name and folder");
  if (!S_ISREG(about.st_mode))
    return problem("FILE_KIND",
                   fmt::format("{} is {}, not a file", path, S_ISDIR(about.st_mode) ? "a folder" : "a device or pipe"),
                   "name the journal (.jsonl) or the sheet (.csv) itself");
  Input input;
  input.bytes = static_cast<std::size_t>(about.st_size);
  const std::size_t most = exchange::Limits{}.bytes;
  if (input.bytes > most)
    return problem(
        "FILE_TOO_BIG",
        fmt::format("{} has {} MiB; at most {} MiB are taken in at a time", path, input.bytes >> 20, most >> 20),
        "check that it is the right file; a longer journal can be cut into parts (split -C 60m)");
  input.stream.open(path, std::ios::binary);
  if (!input.stream)
    return problem("FILE_OPEN", fmt::format("{} cannot be opened: {}", path, std::strerror(errno)),
                   "check who may read it");
  return input;
}

bool looks_like_journal(Input& input, const std::string& path) {
  const std::string ending = exchange::folded(std::filesystem::path{path}.extension().string());
  if (ending == ".jsonl" || ending == ".json" || ending == ".ndjson") return true;
  std::string head(64, '\0');
  input.stream.read(head.data(), static_cast<std::streamsize>(head.size()));
  head.resize(static_cast<std::size_t>(input.stream.gcount()));
  input.stream.clear();
  input.stream.seekg(0);
  const auto first = head.find_first_not_of("\xEF\xBB\xBF \t\r\n");
  return first != std::string::npos && head[first] == '{';
}

exchange::Progress progress_of(ProgressLine& line, std::size_t bytes) {
  return [&line, bytes](std::size_t done) {
    line.show(done, bytes);
    return !stop_wanted();
  };
}

Result<exchange::TakenIn> read_journal_file(const std::string& path) {
  auto input = open_input(path);
  if (!input) return tl::unexpected(input.error());
  ProgressLine line{"reading " + path};
  auto taken = exchange::read_jsonl(input->stream, progress_of(line, input->bytes));
  if (!taken) {
    Problem p = taken.error();
    p.what = path + ", " + p.what;
    return tl::unexpected(std::move(p));
  }
  return taken;
}

}  // namespace lampside::cli
